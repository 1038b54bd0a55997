// SPDX-License-Identifier: MIT
#include "core/pipeline/printing.h"

#include "core/pipeline/study.h"
#include "tests/core/pipeline/bracket.h"

#include <gtest/gtest.h>

namespace touchmark::test {
namespace {

print::PrintedMark printed(const job::Job& job) {
    pipeline::Evaluator evaluator;
    return *evaluator.evaluate(job, bracket(), Progress(), pipeline::Depth::printed).value()->marks[0].printed;
}

TEST(Printing, OnAWallLayersRunAcrossTheTextHoweverItIsTurned) {
    for (const double turn : {0.0, 90.0, -30.0}) {
        job::Job job = with_mark({}, {.normal = {0, -1, 0}});
        job.marks[0].anchor.turn = Degrees(turn);
        const print::Standing standing = printed(job).standing;
        EXPECT_EQ(standing.zone, Zone::side_wall);
        EXPECT_NEAR(standing.incline.value, 90, 1e-6);
        // Text turned counter-clockwise by t has the part's up at 90° − t from its own x.
        const double angle = (90 - turn) * std::numbers::pi / 180;
        EXPECT_NEAR(standing.up.x, std::cos(angle), 1e-9) << turn;
        EXPECT_NEAR(standing.up.y, std::sin(angle), 1e-9) << turn;
    }
}

TEST(Printing, LargeTextReadsAndSixPointTextIsLost) {
    const auto large = printed(with_mark({}, {.text = "Lot 48-B", .cap_height = 8, .weight = 700}));
    EXPECT_EQ(large.verdict(), print::Verdict::reads);
    EXPECT_EQ(large.pieces.size(), 7U); // a space is no piece with a figure
    const auto small = printed(with_mark({}, {.text = "Lot 48-B", .cap_height = 1.5, .weight = 400}));
    EXPECT_EQ(small.verdict(), print::Verdict::lost);
    EXPECT_LT(small.worst()->fidelity.figure(), print::lost_below);
}

TEST(Printing, ACodeIsJudgedByItsModules) {
    job::Job job = with_mark({}, {});
    content::Code code;
    code.message = "NW-2207/0815";
    code.module = Mm(1);
    code.lettering = Mm(5);
    job.marks[0].content = code;
    const auto readable = printed(job);
    ASSERT_TRUE(readable.modules);
    EXPECT_EQ(readable.modules->wrong, 0);
    EXPECT_FALSE(readable.pieces.empty()); // the line beneath
    std::get<content::Code>(job.marks[0].content).light_is_mark = true;
    EXPECT_EQ(printed(job).modules->wrong, 0);
    std::get<content::Code>(job.marks[0].content).module = Mm(0.2);
    EXPECT_EQ(printed(job).verdict(), print::Verdict::lost);
}

TEST(Study, CountsWhereTheRuleAndThePrintAgree) {
    pipeline::Agreement agreement;
    for (const auto& [rule, print] : {std::pair(true, true), {true, true}, {true, true}, {true, false}, {false, true}})
        agreement.add(rule, print);
    EXPECT_DOUBLE_EQ(agreement.precision(), 0.75); // 3 of 4
    EXPECT_DOUBLE_EQ(agreement.recall(), 0.75);
    EXPECT_DOUBLE_EQ(pipeline::Agreement().recall(), 1);
}

TEST(Study, HasACaseForEachCombinationAndJudgesEveryLetter) {
    pipeline::StudyOptions options;
    options.letters = "HO8";
    options.faces = {{"DejaVu Sans", 700}};
    options.heights = {1.5, 8};
    const auto cases = pipeline::study(options, *bracket().fonts, *bracket().processes, Progress()).value();
    EXPECT_EQ(cases.size(), 2U * 3 * 3 * bracket().processes->size());
    for (const pipeline::StudyCase& one : cases) {
        const pipeline::Agreement& judged = one.will_not_print;
        EXPECT_EQ(judged.both + judged.only_rule + judged.only_print + judged.neither, 3);
        if (one.process == "fff-0.4" && one.mode == Mode::engrave && one.zone == Zone::side_wall) {
            EXPECT_EQ(one.mean_figure > print::reads_from, one.cap_height == 8) << one.mean_figure;
        }
    }
}

} // namespace
} // namespace touchmark::test
