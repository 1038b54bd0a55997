// SPDX-License-Identifier: MIT
// Saving a marked part, its checking included, against OpenCASCADE's own transfer and write of the same part (which
// checks nothing), side by side in one run. N glyphs of DejaVu Sans Bold, exact curves, 0.3 mm deep in a rounded box of
// 60 × 40 × 20 mm and in a shaft of radius 15 mm. `first` writes and reads back the unmarked part as well, `again`
// finds it in the store. Bytes a glyph are those beyond the unmarked part's.
#include "core/deliver/step.h"
#include "tests/bench/lettered.h"

#include <Interface_Static.hxx>
#include <Message.hxx>
#include <Message_Messenger.hxx>
#include <STEPControl_Controller.hxx>
#include <STEPControl_Writer.hxx>
#include <benchmark/benchmark.h>

#include <filesystem>
#include <unistd.h>

namespace {

using namespace touchmark;
using bench::Kind;

std::shared_ptr<part::Reader> reader;

std::filesystem::path scratch(const char* name) {
    return std::filesystem::temp_directory_path() / ("touchmark-bench-" + std::to_string(::getpid()) + name);
}

struct Marked {
    part::PartPtr part, copy;
    double glyphs = 0;

    explicit Marked(const benchmark::State& state) : glyphs(static_cast<double>(state.range(1))) {
        const auto kind = static_cast<Kind>(state.range(0));
        part = bench::part_for(kind);
        const imprint::Footprint mark = bench::footprint(part, kind, static_cast<int>(state.range(1)));
        copy = imprint::imprint(part, std::span(&mark, 1), {}, Progress()).value().part;
    }
};

std::uintmax_t size_of(const part::PartPtr& part, const std::filesystem::path& file) {
    return deliver::write_step(*part, file, {}, *reader, Progress()).value().bytes;
}

void save(benchmark::State& state, const std::function<std::shared_ptr<deliver::StepStore>()>& store) {
    const Marked marked(state);
    const std::filesystem::path file = scratch("-ours.step");
    const double plain = static_cast<double>(size_of(marked.part, file));
    deliver::StepReport report;
    for (auto _ : state) {
        report =
            deliver::write_step(*marked.copy, file, {.unmarked = marked.part, .store = store()}, *reader, Progress())
                .value();
        if (report.route != deliver::StepRoute::appended) state.SkipWithError("not appended");
        if (report.whole_read_back) state.SkipWithError("read back whole");
    }
    state.counters["bytes_a_glyph"] = (static_cast<double>(report.bytes) - plain) / marked.glyphs;
    state.counters["check_ms"] = report.seconds_verify * 1e3;
    std::filesystem::remove(file);
}

void saved_first(benchmark::State& state) {
    save(state, [] { return std::make_shared<deliver::StepStore>(); });
}

void saved_again(benchmark::State& state) {
    const auto store = std::make_shared<deliver::StepStore>();
    save(state, [&] { return store; });
}

/// With parameter curves, as OpenCASCADE is set when it comes, and without.
void opencascade(benchmark::State& state, int parameter_curves) {
    const Marked marked(state);
    const std::filesystem::path file = scratch("-theirs.step");
    Interface_Static::SetIVal("write.surfacecurve.mode", parameter_curves);
    const auto written = [&](const part::PartPtr& part) {
        STEPControl_Writer writer;
        writer.Transfer(part::model(*part).products[0].shape, STEPControl_AsIs);
        writer.Write(file.c_str());
        return static_cast<double>(std::filesystem::file_size(file));
    };
    const double plain = written(marked.part);
    double bytes = 0;
    for (auto _ : state)
        bytes = written(marked.copy);
    state.counters["bytes_a_glyph"] = (bytes - plain) / marked.glyphs;
    std::filesystem::remove(file);
}

void opencascade_as_it_comes(benchmark::State& state) {
    opencascade(state, 1);
}
void opencascade_without_parameter_curves(benchmark::State& state) {
    opencascade(state, 0);
}

constexpr auto sizes = [](benchmark::internal::Benchmark* bench) {
    bench->ArgNames({"cylinder", "glyphs"})->Unit(benchmark::kMillisecond)->UseRealTime();
};

BENCHMARK(saved_again)->Apply(sizes)->ArgsProduct({{bench::plane, bench::cylinder}, {10, 100, 1000}});
BENCHMARK(saved_first)->Apply(sizes)->ArgsProduct({{bench::plane, bench::cylinder}, {10, 100}});
BENCHMARK(opencascade_as_it_comes)->Apply(sizes)->ArgsProduct({{bench::plane, bench::cylinder}, {10, 100}});
BENCHMARK(opencascade_without_parameter_curves)
    ->Apply(sizes)
    ->ArgsProduct({{bench::plane, bench::cylinder}, {10, 100}});
/// Minutes.
BENCHMARK(opencascade_as_it_comes)->Apply(sizes)->Args({bench::plane, 1000})->Iterations(1);

} // namespace

int main(int count, char** arguments) {
    reader = part::Reader::start().value(); // before any thread
    Message::DefaultMessenger()->ChangePrinters().Clear();
    STEPControl_Controller::Init();
    benchmark::Initialize(&count, arguments);
    benchmark::RunSpecifiedBenchmarks();
}
