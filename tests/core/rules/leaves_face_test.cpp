// SPDX-License-Identifier: MIT
#include "tests/core/rules/matchers.h"

#include <gtest/gtest.h>

namespace touchmark::test {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

Invented block(double width, double height) {
    Invented block;
    block.pieces = {{"R", 0, 1, {}}};
    block.strokes = {narrow(1.5)};
    block.width_mm = width;
    block.height_mm = height;
    return block;
}

/// A 10 × 5 mm mark on the bracket's front wall whose left side is `inside` mm from the wall's left edge (88 mm wide,
/// see make_demo_part).
Scene from_left_edge(double inside) {
    Scene scene;
    const int wall = scene.face_towards({0, -1, 0});
    const auto map = surface::map_face(*scene.part, wall).value();
    const double left = map->locate({0, 0, 20}).x; // seen from the front, x = 0 is the left edge
    scene.add(block(10, 5), wall, {left + inside + 5, map->locate({0, 0, 20}).y});
    return scene;
}

// Computed: the bracket's wall begins at x = 0 in its file; there is no source to name but the part itself.
TEST(LeavesFace, BlocksAsSoonAsTheMarkCrossesTheEdge) {
    EXPECT_THAT(from_left_edge(-0.01).findings("leaves_face"), ElementsAre(Blocks()));
    EXPECT_THAT(from_left_edge(0.01).findings("leaves_face"), IsEmpty());
}

TEST(LeavesFace, SaysByHowMuch) {
    const Scene scene = from_left_edge(-1.25);
    const auto finding = scene.findings("leaves_face").at(0);
    EXPECT_NEAR(finding.figure, 1.25, 1e-3);
    EXPECT_EQ(finding.message, "The mark leaves its face by 1.25 mm.");
    expect_complete_and_helpful(scene, finding);
}

TEST(LeavesFace, MovesInwardByNoMoreThanItTakesForTheComfortableMargin) {
    const Scene scene = from_left_edge(-1.25);
    const auto finding = scene.findings("leaves_face").at(0);
    const rules::Fix* fix = fix_of(finding, "move_inward");
    ASSERT_NE(fix, nullptr);
    const auto fixed = fix->edit(scene.job).value();
    EXPECT_THAT(scene.findings("leaves_face", fixed), IsEmpty());
    EXPECT_THAT(scene.findings("edge_margin", fixed), IsEmpty());
    const double moved = distance(fixed.marks[0].anchor.at, scene.job.marks[0].anchor.at);
    EXPECT_GE(moved, 1.25 + 0.84 - 1e-3); // assumed, in the profile: two lines of 0.42 mm
    EXPECT_LE(moved, 1.25 + 0.84 + 0.1);
}

TEST(LeavesFace, OffersASmallerMarkWhereNoPlaceIsLargeEnough) {
    Scene scene;
    const int wall = scene.face_towards({0, -1, 0});
    const Vec2 room = surface::map_face(*scene.part, wall).value()->rectangle();
    scene.add(block(200, 20), wall);
    const auto finding = scene.findings("leaves_face").at(0);
    EXPECT_EQ(fix_of(finding, "move_inward"), nullptr);
    const rules::Fix* fix = fix_of(finding, "smaller");
    ASSERT_NE(fix, nullptr);
    expect_complete_and_helpful(scene, finding);
    const auto fixed = fix->edit(scene.job).value();
    const double height = std::get<content::Text>(fixed.marks[0].content).cap_height.value;
    EXPECT_LE(200 * height / 5, room.x - 2 * 0.84 + 1e-6);
    EXPECT_GT(200 * (height + 0.1) / 5, room.x - 2 * 0.84); // the largest tenth of a millimetre that fits
}

} // namespace
} // namespace touchmark::test
