// SPDX-License-Identifier: MIT

// Reading a part against the bare OpenCASCADE reader, side by side in one run. "bare" is ReadFile and Transfer and
// nothing else, in this process, with names and colours on and all else off, as ours; "ours" is Reader::read: another
// process, the scan before, faces and bodies measured and checked, the part handed over. The goal is ours ≤ 1.15 ×
// bare.

#include "core/part/reader.h"
#include "core/part/step_reading.h"
#include "tests/support/open_parts.h"

#include <STEPCAFControl_Reader.hxx>
#include <TDocStd_Document.hxx>
#include <benchmark/benchmark.h>

#include <iostream>

namespace {

using namespace touchmark;

std::shared_ptr<part::Reader> reader;

void bare(benchmark::State& state, const std::string& name) {
    const std::string file = test::open_part(name).string();
    part::prepare_step_reader();
    part::silence_opencascade();
    for (auto _ : state) {
        STEPCAFControl_Reader step;
        for (const auto off : {&STEPCAFControl_Reader::SetLayerMode, &STEPCAFControl_Reader::SetPropsMode,
                               &STEPCAFControl_Reader::SetGDTMode, &STEPCAFControl_Reader::SetMatMode,
                               &STEPCAFControl_Reader::SetViewMode})
            (step.*off)(Standard_False);
        if (step.ReadFile(file.c_str()) != IFSelect_RetDone) state.SkipWithError("not read");
        Handle(TDocStd_Document) document = new TDocStd_Document("BinXCAF");
        if (!step.Transfer(document)) state.SkipWithError("not transferred");
        state.PauseTiming(); // taking the reader down is not reading
        document.Nullify();
        step = STEPCAFControl_Reader();
        state.ResumeTiming();
    }
}

void ours(benchmark::State& state, const std::string& name, part::Verdict verdict) {
    const std::filesystem::path file = test::open_part(name);
    part::ReadLimits limits;
    limits.verdict = verdict;
    for (auto _ : state) {
        const auto part = reader->read(file, Progress(), limits);
        if (!part) state.SkipWithError(part.error().message.c_str());
        state.PauseTiming();
        if (part) (void)part::checked(*part, Progress()); // or the check would run beside the next round
        state.ResumeTiming();
    }
}

} // namespace

int main(int argc, char** argv) {
    auto started = part::Reader::start();
    if (!started) {
        std::cerr << started.error().message << '\n';
        return 1;
    }
    reader = *started;
    for (const char* name : {"frame.step", "as1-oc-214.stp", "linkrods.step", "component8.step"}) {
        benchmark::RegisterBenchmark(("read/bare/" + std::string(name)).c_str(), bare, name)
            ->Unit(benchmark::kMillisecond)
            ->UseRealTime();
        benchmark::RegisterBenchmark(("read/ours/" + std::string(name)).c_str(), ours, name, part::Verdict::later)
            ->Unit(benchmark::kMillisecond)
            ->UseRealTime();
        benchmark::RegisterBenchmark(("read/ours_and_check/" + std::string(name)).c_str(), ours, name,
                                     part::Verdict::awaited)
            ->Unit(benchmark::kMillisecond)
            ->UseRealTime();
    }
    benchmark::Initialize(&argc, argv);
    benchmark::RunSpecifiedBenchmarks();
    reader.reset();
}
