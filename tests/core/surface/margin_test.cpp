// SPDX-License-Identifier: MIT
#include "tests/core/surface/parts.h"

#include <BRepAlgoAPI_Cut.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <gtest/gtest.h>

#include <cmath>

namespace touchmark::test {
namespace {

/// 60 × 40 about the origin; with a hole of radius 3 at (10, 5) when wanted.
surface::FaceMapPtr plate(bool holed = false) {
    TopoDS_Shape shape = BRepPrimAPI_MakeBox(gp_Pnt(-30, -20, -5), 60, 40, 5).Shape();
    if (holed)
        shape = BRepAlgoAPI_Cut(shape, BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(10, 5, -9), gp::DZ()), 3, 20).Shape())
                    .Shape();
    return map_of(*part_of(shape), {0, 0, 1});
}

TEST(Margin, IsTheLeastDistanceToTheEdge) {
    const auto map = plate();
    const surface::Margin margin = surface::margin(*map, block({-5, 10}, {5, 17}));
    EXPECT_NEAR(margin.distance, 3, 1e-9);
    EXPECT_NEAR(margin.on_mark.y, 17, 1e-9);
    EXPECT_NEAR(margin.on_edge.y, 20, 1e-9);
}

TEST(Margin, IsNegativeByHowMuchItLeaves) {
    const auto map = plate();
    EXPECT_NEAR(surface::margin(*map, block({-5, 10}, {5, 22})).distance, -2, 1e-9);
    EXPECT_NEAR(surface::margin(*map, block({27, 10}, {34, 21})).distance, -std::hypot(4, 1), 1e-9);
    EXPECT_NEAR(surface::margin(*map, block({40, 0}, {50, 1})).distance, -20, 1e-9); // wholly off it
}

TEST(Margin, KnowsHoles) {
    const auto map = plate(true);
    const Vec2 hole = map->locate({10, 5, 0});
    EXPECT_NEAR(surface::margin(*map, block(hole + Vec2{-2, 4}, hole + Vec2{2, 6})).distance, 1, 2e-3);
    // The hole lies whole inside a stroke of 10 × 10: it leaves the face by what the hole lies within it.
    const surface::Margin over = surface::margin(*map, block(hole - Vec2{5, 5}, hole + Vec2{5, 5}));
    EXPECT_NEAR(over.distance, -(5 - 3 / std::sqrt(2.0)), 0.01);
    // A stroke narrower than the hole, across it.
    EXPECT_LT(surface::margin(*map, block(hole - Vec2{5, 1}, hole + Vec2{5, 1})).distance, -0.9);
    // In the hole.
    EXPECT_LT(surface::margin(*map, block(hole - Vec2{1, 1}, hole + Vec2{1, 1})).distance, -1.5);
}

TEST(ShiftInward, IsTheShortestOnAConvexFace) {
    const auto map = plate();
    const auto shift = surface::shift_inward(*map, block({20, 10}, {32, 19.5}), 1);
    ASSERT_TRUE(shift);
    EXPECT_NEAR(shift->x, -3, 1e-4);
    EXPECT_NEAR(shift->y, -0.5, 1e-4);
    const auto none = surface::shift_inward(*map, block({-5, -5}, {5, 5}), 1);
    ASSERT_TRUE(none);
    EXPECT_NEAR(length(*none), 0, 1e-9);
}

TEST(ShiftInward, SaysWhenTheMarkIsTooBig) {
    const auto map = plate();
    EXPECT_FALSE(surface::shift_inward(*map, block({-29.5, -1}, {29.5, 1}), 1));
    EXPECT_TRUE(surface::shift_inward(*map, block({-28.9, -1}, {28.9, 1}), 1));
    EXPECT_FALSE(surface::shift_inward(*map, block({-1, -25}, {1, 25}), 0));
}

TEST(ShiftInward, GivesTheMarginWantedNextToAHole) {
    const auto map = plate(true);
    const Vec2 hole = map->locate({10, 5, 0});
    for (const Vec2 off : {Vec2{0, 0}, Vec2{1, 2}, Vec2{-3, 1}, Vec2{4, -4}}) {
        const geometry::Outline mark = block(hole + off - Vec2{4, 2}, hole + off + Vec2{4, 2});
        const auto shift = surface::shift_inward(*map, mark, 0.8);
        ASSERT_TRUE(shift);
        const auto moved = geometry::transformed(mark, geometry::Affine::translation(*shift));
        EXPECT_GE(surface::margin(*map, moved).distance, 0.8 - 1e-4);
        // Straight up or down would do; no way is longer than the shorter of these.
        EXPECT_LE(length(*shift), 3 + 2 + 0.8 - std::abs(off.y) + 0.01);
    }
}

TEST(ShiftInward, IsQuickForALineOfText) {
    const auto map = plate(true);
    geometry::Outline text;
    for (int i = 0; i < 40; ++i)
        text.regions.push_back(block({i * 0.5 + 15, 0}, {i * 0.5 + 15.3, 2}).regions[0]);
    const auto shift = surface::shift_inward(*map, text, 1);
    ASSERT_TRUE(shift);
    EXPECT_GE(surface::margin(*map, geometry::transformed(text, geometry::Affine::translation(*shift))).distance,
              1 - 1e-4);
}

TEST(Placement, TurnsThenMoves) {
    const Vec2 p = surface::placement({10, 20}, Degrees(90))({1, 0});
    EXPECT_NEAR(p.x, 10, 1e-12);
    EXPECT_NEAR(p.y, 21, 1e-12);
}

} // namespace
} // namespace touchmark::test
