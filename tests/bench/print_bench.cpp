// SPDX-License-Identifier: MIT
// How long the simulated print of a 40-character mark on the demo bracket takes after an edit: `print_…` the print with
// each letter's fidelity, `quick_…` the findings before it, `printed_…` findings and fidelity, `tried_…` all of it on
// marks that need mending, with the fixes that are tried by printing them. Run off the interface thread in the program.
#include "core/pipeline/printing.h"
#include "tests/bench/demo.h"

namespace {

using namespace touchmark;
using bench::around;

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
    mark.anchor.face = bench::face_towards(normal);
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

/// The print alone; of a hidden mark with the light that comes through.
void print(benchmark::State& state, Vec3 normal, Mode mode) {
    pipeline::Evaluator evaluator;
    const auto evaluation = evaluator.evaluate(job_with(normal, mode, 4.5), around(), Progress()).value();
    const auto& processes = *around().processes;
    const auto process = std::ranges::find(processes, evaluation->job.process, &process::Process::id);
    pipeline::PrintOrder order = pipeline::order_of(*evaluation, 0);
    order.said = order.mark->content;
    order.obstacles = imprint::Obstacles::of(*around().part, part::Deflection{}, Progress()).value();
    order.body = around().part->faces()[static_cast<std::size_t>(order.mark->anchor.face)].body;
    for (auto _ : state)
        benchmark::DoNotOptimize(pipeline::print_mark(order, *process, Progress()).value().pieces.size());
}

void print_wall(benchmark::State& state) {
    print(state, {0, -1, 0}, Mode::engrave);
}
void print_top(benchmark::State& state) {
    print(state, {0, 0, 1}, Mode::engrave);
}
void print_bottom(benchmark::State& state) {
    print(state, {0, 0, -1}, Mode::engrave);
}
void print_hidden(benchmark::State& state) {
    print(state, {0, 0, -1}, Mode::hidden);
}
void quick_wall(benchmark::State& state) {
    evaluate(state, {0, -1, 0}, Mode::engrave, 4.5, pipeline::Depth::quick);
}
void printed_wall(benchmark::State& state) {
    evaluate(state, {0, -1, 0}, Mode::engrave, 4.5, pipeline::Depth::printed);
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
void tried_wall(benchmark::State& state) {
    evaluate(state, {0, -1, 0}, Mode::engrave, 1.8, pipeline::Depth::tried);
}
void tried_top(benchmark::State& state) {
    evaluate(state, {0, 0, 1}, Mode::engrave, 4.5, pipeline::Depth::tried);
}
void tried_bottom(benchmark::State& state) {
    evaluate(state, {0, 0, -1}, Mode::engrave, 4.5, pipeline::Depth::tried);
}
void tried_hidden(benchmark::State& state) {
    evaluate(state, {0, 0, -1}, Mode::hidden, 4.5, pipeline::Depth::tried);
}

BENCHMARK(print_wall)->Unit(benchmark::kMillisecond);
BENCHMARK(print_top)->Unit(benchmark::kMillisecond);
BENCHMARK(print_bottom)->Unit(benchmark::kMillisecond);
BENCHMARK(print_hidden)->Unit(benchmark::kMillisecond);
BENCHMARK(quick_wall)->Unit(benchmark::kMillisecond);
BENCHMARK(printed_wall)->Unit(benchmark::kMillisecond);
BENCHMARK(printed_top)->Unit(benchmark::kMillisecond);
BENCHMARK(printed_bottom)->Unit(benchmark::kMillisecond);
BENCHMARK(printed_hidden)->Unit(benchmark::kMillisecond);
BENCHMARK(tried_wall)->Unit(benchmark::kMillisecond);
BENCHMARK(tried_top)->Unit(benchmark::kMillisecond);
BENCHMARK(tried_bottom)->Unit(benchmark::kMillisecond);
BENCHMARK(tried_hidden)->Unit(benchmark::kMillisecond);

} // namespace

int main(int argc, char** argv) {
    return touchmark::bench::run(argc, argv);
}
