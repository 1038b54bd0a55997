// SPDX-License-Identifier: MIT
#include "core/pipeline/extras.h"

#include "tests/core/pipeline/bracket.h"

#include <gtest/gtest.h>

namespace touchmark::test {
namespace {

pipeline::MarkExtra extra(double seconds, double waited) {
    return {"m", print::Extra{.travels = 2, .seconds = seconds, .waited_s = waited}, {}};
}

TEST(ExtrasOfAJob, AreOneAMarkInItsOrder) {
    const job::Job job =
        with_mark(with_mark({}, {.text = "A"}), {.text = "O", .mode = Mode::raise, .normal = {0, 0, 1}});
    pipeline::Evaluator evaluator;
    const auto& process = *std::ranges::find(*bracket().processes, job.process, &process::Process::id);
    const auto extras = pipeline::extras_of(*evaluated(evaluator, job), process, Progress()).value();
    ASSERT_EQ(extras.size(), 2U);
    EXPECT_EQ(extras[0].mark, job.marks[0].id);
    EXPECT_EQ(extras[0].extra->islands, 0U);
    EXPECT_EQ(extras[1].extra->raised_islands, 1U);
    const auto by_name = pipeline::events_by_name(job, extras);
    EXPECT_EQ(by_name(job.marks[1].name)->at(index_of(run::Event::raised_island)), 1);
    EXPECT_FALSE(by_name("no such mark"));
}

TEST(ExtrasOfAJob, AreAbsentWithAReasonWhereAMarkCannotBePrinted) {
    job::Job job = with_mark({}, {});
    job.marks[0].anchor.face = 9999;
    pipeline::Evaluator evaluator;
    process::Process process = *std::ranges::find(*bracket().processes, job.process, &process::Process::id);
    const auto evaluation = evaluated(evaluator, job);
    const auto extras = pipeline::extras_of(*evaluation, process, Progress()).value();
    EXPECT_FALSE(extras[0].extra);
    EXPECT_EQ(extras[0].trouble->code, "pipeline.not_drawn");
    process.printing.reset();
    EXPECT_EQ(pipeline::extras_of(*evaluated(evaluator, with_mark({}, {})), process, Progress()).error().code,
              "print.no_figures");
}

TEST(ExtrasOfAJob, OfMarksInTheSameLayersWaitOnlyForWhatTheyAllLeave) {
    // Three layers of 10 s: one mark takes 6 of the 30 s, another 9; together they wait for 15.
    const std::vector<pipeline::MarkExtra> two{extra(30, 24), extra(30, 21)};
    EXPECT_DOUBLE_EQ(pipeline::sum_of(two).seconds, 30);
    EXPECT_DOUBLE_EQ(pipeline::sum_of(two).waited_s, 15);
    EXPECT_EQ(pipeline::sum_of(two).travels, 4U);
    const std::vector<pipeline::MarkExtra> with_cut{extra(30, 24), extra(7, 0)};
    EXPECT_DOUBLE_EQ(pipeline::sum_of(with_cut).seconds, 37);
    EXPECT_DOUBLE_EQ(pipeline::sum_of({}).seconds, 0);
}

} // namespace
} // namespace touchmark::test
