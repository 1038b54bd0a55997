// SPDX-License-Identifier: MIT
#include "core/rules/outline_distance.h"
#include "tests/core/rules/matchers.h"

#include <gtest/gtest.h>

namespace touchmark::test {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

/// Two marks of 6 × 4 mm on the front wall, the second `gap` mm to the right of the first.
Scene beside(double gap) {
    Scene scene;
    Invented block;
    block.pieces = {{"R", 0, 1, {}}};
    block.strokes = {narrow(1.5)};
    block.width_mm = 6;
    block.height_mm = 4;
    const int wall = scene.face_towards({0, -1, 0});
    scene.add(block, wall, {-8, 0});
    scene.add(block, wall, {-8 + 6 + gap, 0});
    scene.job.marks[0].name = "Serial";
    return scene;
}

// Assumed, in the profile: one line of 0.42 mm fits between two marks, two are comfortable.
TEST(Overlap, JudgesTheDistanceAtItsLimitsFromBothSides) {
    EXPECT_THAT(beside(0.419).findings("overlap"), ElementsAre(Blocks()));
    EXPECT_THAT(beside(0.421).findings("overlap"), ElementsAre(Warns()));
    EXPECT_THAT(beside(0.839).findings("overlap"), ElementsAre(Warns()));
    EXPECT_THAT(beside(0.841).findings("overlap"), IsEmpty());
}

TEST(Overlap, NamesThePairOnceOnTheLaterMark) {
    const Scene scene = beside(-1);
    const auto findings = scene.findings("overlap");
    ASSERT_EQ(findings.size(), 1u);
    EXPECT_EQ(findings[0].mark, scene.job.marks[1].id);
    EXPECT_EQ(findings[0].message, "The mark overlaps 'Serial'; 0.42 mm apart keeps both readable.");
    EXPECT_EQ(findings[0].figure, 0);
}

TEST(Overlap, MovesApartByTheShortestWay) {
    const Scene scene = beside(0.2);
    const auto finding = scene.findings("overlap").at(0);
    const rules::Fix* fix = fix_of(finding, "move_apart");
    ASSERT_NE(fix, nullptr);
    EXPECT_EQ(fix->title, "Move 0.65 mm to the right, clear of 'Serial'"); // lacks 0.64 mm of 0.84 mm
    EXPECT_THAT(scene.findings("overlap", fix->edit(scene.job).value()), IsEmpty());
    expect_complete_and_helpful(scene, finding);
}

TEST(Overlap, DoesNotMoveIntoAThirdMark) {
    Scene scene = beside(0.2);
    Invented third;
    third.pieces = {{"R", 0, 1, {}}};
    third.strokes = {narrow(1.5)};
    third.width_mm = 6;
    third.height_mm = 4;
    scene.add(third, scene.face_towards({0, -1, 0}), {-8 + 12.2 + 0.9, 0});
    const auto finding = scene.findings("overlap").at(0);
    const rules::Fix* fix = fix_of(finding, "move_apart");
    ASSERT_NE(fix, nullptr);
    EXPECT_THAT(fix->title, testing::Not(HasSubstr("to the right")));
    EXPECT_THAT(scene.findings("overlap", fix->edit(scene.job).value()), IsEmpty());
}

TEST(Overlap, MarksOnDifferentFacesDoNotMeet) {
    Scene scene = beside(-3);
    scene.job.marks[1].anchor.face = scene.face_towards({0, 1, 0});
    EXPECT_THAT(scene.findings("overlap"), IsEmpty());
}

geometry::Outline square_at(Vec2 centre, double side) {
    const double h = side / 2;
    const std::vector<Vec2> corners{{centre.x - h, centre.y - h},
                                    {centre.x + h, centre.y - h},
                                    {centre.x + h, centre.y + h},
                                    {centre.x - h, centre.y + h}};
    return {{geometry::Region{geometry::contour_of(corners), {}}}};
}

// Computed: plane geometry.
TEST(OutlineDistance, AgreesWithPlaneGeometry) {
    const auto diagonal = rules::nearness(square_at({0, 0}, 2), square_at({5, 6}, 2), 10);
    ASSERT_TRUE(diagonal);
    EXPECT_NEAR(diagonal->distance, 5, 1e-12); // corners (1, 1) and (4, 5)
    EXPECT_EQ(diagonal->on_a, (Vec2{1, 1}));
    EXPECT_EQ(diagonal->on_b, (Vec2{4, 5}));
    EXPECT_FALSE(rules::nearness(square_at({0, 0}, 2), square_at({5, 6}, 2), 4.9));
}

TEST(OutlineDistance, IsZeroAcrossAndInside) {
    EXPECT_EQ(rules::nearness(square_at({0, 0}, 2), square_at({1, 1}, 2), 1)->distance, 0);
    EXPECT_EQ(rules::nearness(square_at({0, 0}, 10), square_at({1, 1}, 2), 1)->distance, 0);
    EXPECT_EQ(rules::nearness(square_at({1, 1}, 2), square_at({0, 0}, 10), 1)->distance, 0);
}

} // namespace
} // namespace touchmark::test
