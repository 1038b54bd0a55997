// SPDX-License-Identifier: MIT
#include "tests/core/rules/matchers.h"

#include <gtest/gtest.h>

namespace touchmark::test {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

/// A 10 × 5 mm mark this far from the left edge of the bracket's front wall.
Scene from_left_edge(double inside) {
    Scene scene;
    const int wall = scene.face_towards({0, -1, 0});
    const Vec2 edge = surface::map_face(*scene.part, wall).value()->locate({0, 0, 20});
    Invented block;
    block.pieces = {{"R", 0, 1, {}}};
    block.strokes = {narrow(1.5)};
    scene.add(block, wall, {edge.x + inside + 5, edge.y});
    return scene;
}

// Assumed, in the profile: one line of 0.42 mm fits between mark and edge, two are comfortable.
TEST(EdgeMargin, JudgesTheMarginAtItsLimitsFromBothSides) {
    EXPECT_THAT(from_left_edge(0.415).findings("edge_margin"), ElementsAre(Blocks()));
    EXPECT_THAT(from_left_edge(0.425).findings("edge_margin"), ElementsAre(Warns()));
    EXPECT_THAT(from_left_edge(0.835).findings("edge_margin"), ElementsAre(Warns()));
    EXPECT_THAT(from_left_edge(0.845).findings("edge_margin"), IsEmpty());
}

TEST(EdgeMargin, LeavesWhatIsBeyondTheEdgeToTheOtherRule) {
    EXPECT_THAT(from_left_edge(-0.5).findings("edge_margin"), IsEmpty());
}

TEST(EdgeMargin, PointsAtMarkAndEdgeAndMovesInward) {
    const Scene scene = from_left_edge(0.2);
    const auto finding = scene.findings("edge_margin").at(0);
    EXPECT_NEAR(finding.figure, 0.2, 1e-3);
    EXPECT_EQ(finding.message, "The mark comes within 0.20 mm of the face's edge; 0.42 mm is the least that holds.");
    ASSERT_EQ(finding.where_on_part.size(), 2u);
    EXPECT_NEAR(finding.where_on_part[0].x, 0.2, 1e-3);
    EXPECT_NEAR(finding.where_on_part[1].x, 0.0, 1e-3);
    const rules::Fix* fix = fix_of(finding, "move_inward");
    ASSERT_NE(fix, nullptr);
    EXPECT_THAT(scene.findings("edge_margin", fix->edit(scene.job).value()), IsEmpty());
    expect_complete_and_helpful(scene, finding);
}

} // namespace
} // namespace touchmark::test
