// SPDX-License-Identifier: MIT
// How long the simulated print of a 40-character mark on the demo bracket takes after an edit: the print with each
// letter's fidelity, and the whole evaluation with the fixes that are tried by printing them. Run off the interface
// thread in the program.
#include "core/part/reader.h"
#include "core/pipeline/evaluate.h"

#include <benchmark/benchmark.h>
#include <iostream>

namespace {

using namespace touchmark;

std::shared_ptr<part::Reader> reader;

const pipeline::Surroundings& around() {
    static const pipeline::Surroundings made = [] {
        const std::filesystem::path resources = TOUCHMARK_RESOURCES;
        return pipeline::Surroundings{reader->read(resources / "demo" / "sensor-bracket.step", Progress()).value(),
                                      content::FontLibrary::system().value(),
                                      std::make_shared<const std::vector<process::Process>>(
                                          process::load_processes(resources / "processes").value())};
    }();
    return made;
}

int face_towards(Vec3 normal) {
    int best = -1;
    double area = 0;
    for (const part::Face& face : around().part->faces())
        if (face.kind == part::FaceKind::plane && dot(face.frame.z, normal) > 0.999 && face.area_mm2 > area)
            best = face.index, area = face.area_mm2;
    return best;
}

/// Every call another text of 40 characters.
job::Job job_with(Vec3 normal, Mode mode, double cap_height) {
    static int serial = 1000;
    content::Text lettering;
    lettering.text = "SN " + std::to_string(++serial) + "-08\nRev. C LO\nT 2026-48\nNW-2207 A";
    lettering.cap_height = Mm(cap_height);
    lettering.weight = 700;
    job::Mark mark;
    mark.content = lettering;
    mark.mode = mode;
    mark.anchor.face = face_towards(normal);
    return job::add_mark({}, mark).value();
}

void evaluate(benchmark::State& state, Vec3 normal, Mode mode, double cap_height, pipeline::Depth depth) {
    pipeline::Evaluator evaluator;
    (void)evaluator.evaluate(job_with(normal, mode, cap_height), around(), Progress(), depth);
    std::size_t findings = 0;
    for (auto _ : state)
        findings = evaluator.evaluate(job_with(normal, mode, cap_height), around(), Progress(), depth)
                       .value()
                       ->findings.size();
    state.counters["findings"] = static_cast<double>(findings);
}

void quick_wall(benchmark::State& state) {
    evaluate(state, {0, -1, 0}, Mode::engrave, 4.5, pipeline::Depth::quick);
}
void printed_wall(benchmark::State& state) {
    evaluate(state, {0, -1, 0}, Mode::engrave, 4.5, pipeline::Depth::printed);
}
void printed_wall_with_fixes(benchmark::State& state) {
    evaluate(state, {0, -1, 0}, Mode::engrave, 1.8, pipeline::Depth::printed);
}
void printed_top(benchmark::State& state) {
    evaluate(state, {0, 0, 1}, Mode::engrave, 4.5, pipeline::Depth::printed);
}
void printed_bottom(benchmark::State& state) {
    evaluate(state, {0, 0, -1}, Mode::engrave, 4.5, pipeline::Depth::printed);
}
void printed_hidden(benchmark::State& state) {
    evaluate(state, {0, 0, -1}, Mode::hidden, 4.5, pipeline::Depth::printed);
}

BENCHMARK(quick_wall)->Unit(benchmark::kMillisecond);
BENCHMARK(printed_wall)->Unit(benchmark::kMillisecond);
BENCHMARK(printed_wall_with_fixes)->Unit(benchmark::kMillisecond);
BENCHMARK(printed_top)->Unit(benchmark::kMillisecond);
BENCHMARK(printed_bottom)->Unit(benchmark::kMillisecond);
BENCHMARK(printed_hidden)->Unit(benchmark::kMillisecond);

} // namespace

int main(int argc, char** argv) {
    auto started = part::Reader::start(); // forks, so before anything else
    if (!started) return std::cerr << started.error().message << '\n', 1;
    reader = *started;
    benchmark::Initialize(&argc, argv);
    benchmark::RunSpecifiedBenchmarks();
}
