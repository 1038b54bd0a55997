// SPDX-License-Identifier: MIT
#include "tests/core/pipeline/bracket.h"

#include <gtest/gtest.h>

namespace touchmark::pipeline {
namespace {

job::Job cut_through(const char* text) {
    return test::with_mark({}, {.text = text, .cap_height = 6, .mode = Mode::through});
}
const rules::Fix* fix_of(const Evaluation& evaluation, std::string_view rule, std::string_view fix) {
    for (const rules::Finding& finding : evaluation.findings)
        if (finding.rule == rule)
            for (const rules::Fix& one : finding.fixes)
                if (one.id == fix) return &one;
    return nullptr;
}

TEST(BridgedMarks, TheFixHoldsEveryCounterOnThePart) {
    Evaluator evaluator;
    const auto loose = test::evaluated(evaluator, cut_through("BO8"));
    ASSERT_EQ(test::worst(*loose, "opening", "m1"), rules::Severity::blocker);
    const rules::Fix* fix = fix_of(*loose, "opening", "bridges");
    ASSERT_NE(fix, nullptr);
    const auto held = test::evaluated(evaluator, fix->edit(loose->job).value());
    EXPECT_EQ(test::worst(*held, "opening", "m1"), std::nullopt);
    EXPECT_EQ(test::worst(*held, "bridge_width", "m1"), std::nullopt) << "as wide as the process finds comfortable";
    for (const geometry::Region& region : held->marks.front().drawn->outline.regions)
        EXPECT_TRUE(region.holes.empty());
    std::size_t regions = 0;
    for (const content::Piece& piece : held->marks.front().drawn->pieces) {
        EXPECT_EQ(piece.first_region, regions) << piece.label;
        regions += piece.region_count;
    }
    EXPECT_EQ(regions, held->marks.front().drawn->outline.regions.size());

    const auto solid = evaluator.build(held->job, test::bracket(), Progress());
    ASSERT_TRUE(solid) << solid.error().message;
    EXPECT_FALSE(evaluator.build(loose->job, test::bracket(), Progress())) << "what would fall out is not made";
    const double wall = *held->marks.front().wall_mm;
    const double kept =
        geometry::area(loose->marks.front().drawn->outline) - geometry::area(held->marks.front().drawn->outline);
    EXPECT_GT(kept, 1);
    EXPECT_EQ((*solid)->part->bodies().size(), test::bracket().part->bodies().size()) << "nothing comes loose";
    EXPECT_NEAR(-(*solid)->volume_change_mm3, geometry::area(held->marks.front().drawn->outline) * wall, 1e-3)
        << "area by depth, on a flat wall";
}

TEST(BridgedMarks, ItsOwnWidthIsTakenAndJudged) {
    Evaluator evaluator;
    job::Job job = cut_through("O");
    job.marks.front().bridges = job::Bridging::automatic;
    job.marks.front().bridge_width = Mm(0.5);
    const auto thin = test::evaluated(evaluator, job);
    EXPECT_EQ(test::worst(*thin, "bridge_width", "m1"), rules::Severity::blocker) << "less than two lines of 0.42 mm";
    const rules::Fix* fix = fix_of(*thin, "bridge_width", "bridge_width");
    ASSERT_NE(fix, nullptr);
    EXPECT_EQ(test::worst(*test::evaluated(evaluator, fix->edit(job).value()), "bridge_width", "m1"), std::nullopt);
    job.marks.front().mode = Mode::engrave;
    const auto engraved = test::evaluated(evaluator, job);
    EXPECT_EQ(engraved->marks.front().drawn->outline.regions.front().holes.size(), 1u) << "held by what it is cut into";
}

} // namespace
} // namespace touchmark::pipeline
