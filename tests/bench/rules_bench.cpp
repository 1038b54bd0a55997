// SPDX-License-Identifier: MIT
// How long a person waits for the findings of a 40-character mark on the demo bracket: while dragging (only the place
// changed), and for a text never seen before. Meshing the part is done before the clock starts.
#include "tests/bench/demo.h"

#include <cmath>

namespace {

using namespace touchmark;
using bench::around;

constexpr std::string_view forty = "SN 4711-0815 Rev. C  LOT 2026-48 NW-2207";
static_assert(forty.size() == 40);

job::Job job_with(std::string text, double cap_height, int weight) {
    content::Text lettering;
    lettering.text = std::move(text);
    lettering.cap_height = Mm(cap_height);
    lettering.weight = weight;
    job::Mark mark;
    mark.content = lettering;
    mark.anchor.face = bench::face_towards({0, -1, 0});
    return job::add_mark({}, mark).value();
}

std::size_t evaluate(pipeline::Evaluator& evaluator, const job::Job& job) {
    return evaluator.evaluate(job, around(), Progress()).value()->findings.size();
}

void drag(benchmark::State& state, const job::Job& start) {
    pipeline::Evaluator evaluator;
    job::Job job = start;
    std::size_t findings = evaluate(evaluator, job);
    double t = 0;
    for (auto _ : state) {
        t += 0.01;
        job.marks[0].anchor.at = {2 * std::cos(t), 2 * std::sin(t)};
        findings = evaluate(evaluator, job);
    }
    state.counters["findings"] = static_cast<double>(findings);
}

/// 40 characters in lines that fit the wall.
void drag_in_lines(benchmark::State& state) {
    drag(state, job_with("SN 4711-\n0815 Rev.\nC LOT\n2026-48\nNW-2207\nAB", 4.5, 700));
}
/// One small line, full of findings with fixes.
void drag_small(benchmark::State& state) {
    drag(state, job_with(std::string(forty), 1.2, 400));
}
/// One line that hangs over the edge.
void drag_over_the_edge(benchmark::State& state) {
    drag(state, job_with(std::string(forty), 1.6, 400));
}

/// Typing: another text of letters that have been seen.
void new_text(benchmark::State& state) {
    pipeline::Evaluator evaluator;
    (void)evaluate(evaluator, job_with("0123456789", 5, 700));
    int serial = 0;
    std::size_t findings = 0;
    for (auto _ : state) {
        std::string text(forty);
        const std::string number = std::to_string(100000 + serial++);
        text.replace(3, number.size(), number);
        findings = evaluate(evaluator, job_with(text, 1.2, state.range(0) ? 400 : 700));
    }
    state.counters["findings"] = static_cast<double>(findings);
}

/// The first mark of all: no letter was ever measured, in any weight.
void new_letters(benchmark::State& state) {
    std::size_t findings = 0;
    for (auto _ : state) {
        state.PauseTiming();
        auto evaluator = std::make_unique<pipeline::Evaluator>();
        (void)evaluate(*evaluator, job_with("|", 5, 700)); // the part's mesh, map and obstacles
        state.ResumeTiming();
        findings = evaluate(*evaluator, job_with(std::string(forty), 1.2, state.range(0) ? 400 : 700));
        state.PauseTiming();
        evaluator.reset();
        state.ResumeTiming();
    }
    state.counters["findings"] = static_cast<double>(findings);
}

BENCHMARK(drag_in_lines)->Unit(benchmark::kMillisecond);
BENCHMARK(drag_small)->Unit(benchmark::kMillisecond);
BENCHMARK(drag_over_the_edge)->Unit(benchmark::kMillisecond);
BENCHMARK(new_text)->Arg(0)->Arg(1)->ArgName("regular")->Unit(benchmark::kMillisecond);
BENCHMARK(new_letters)->Arg(0)->Arg(1)->ArgName("regular")->Unit(benchmark::kMillisecond);

} // namespace

int main(int argc, char** argv) {
    return touchmark::bench::run(argc, argv);
}
