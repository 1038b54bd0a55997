// SPDX-License-Identifier: MIT
#include "core/geometry/inset.h"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <numbers>

namespace touchmark::geometry {
namespace {

Contour polygon(const std::vector<Vec2>& corners) {
    return contour_of(corners);
}

Contour circle(Vec2 c, double r) {
    const double k = 0.5522847498 * r;
    return {{Segment::cubic({c.x + r, c.y}, {c.x + r, c.y + k}, {c.x + k, c.y + r}, {c.x, c.y + r}),
             Segment::cubic({c.x, c.y + r}, {c.x - k, c.y + r}, {c.x - r, c.y + k}, {c.x - r, c.y}),
             Segment::cubic({c.x - r, c.y}, {c.x - r, c.y - k}, {c.x - k, c.y - r}, {c.x, c.y - r}),
             Segment::cubic({c.x, c.y - r}, {c.x + k, c.y - r}, {c.x + r, c.y - k}, {c.x + r, c.y})}};
}

double length_of(const Contour& contour) {
    double sum = 0;
    const Polygon points = flattened(contour, 1e-7);
    for (std::size_t i = 0; i < points.size(); ++i)
        sum += distance(points[i], points[(i + 1) % points.size()]);
    return sum;
}

// Steiner's formula for inner parallel sets of a convex polygon: A − P d + d² Σ tan(turn / 2) (R. Schneider, Convex
// Bodies, 3.1, for the polygon's own corners).
TEST(Inset, APolygonLosesWhatSteinersFormulaSays) {
    const std::vector<Vec2> corners{{0, 0}, {6, 0}, {8, 3}, {3, 6}, {-1, 4}};
    const Region region{polygon(corners), {}};
    double corner_sum = 0;
    for (std::size_t i = 0; i < corners.size(); ++i) {
        const Vec2 a = corners[(i + 4) % 5], b = corners[i], c = corners[(i + 1) % 5];
        corner_sum += std::tan(std::atan2(cross(b - a, c - b), dot(b - a, c - b)) / 2);
    }
    const double size = area(region.outer), around = length_of(region.outer);
    const InsetRegion inset(region);
    for (const double d : {0.1, 0.5, 1.3})
        EXPECT_NEAR(inset.area(d), size - around * d + corner_sum * d * d, 1e-12) << d;
}

TEST(Inset, ASmoothRingLosesItsLengthAndTheTurnsOfItsContours) {
    const Region region{circle({1, 2}, 3), {reversed(circle({1.2, 1.9}, 1.4))}};
    const double size = area(Outline{{region}});
    const double around = length_of(region.outer) + length_of(region.holes[0]);
    const InsetRegion inset(region);
    // ± d²/2 · 2π for the two contours: they cancel.
    for (const double d : {0.05, 0.3, 0.6})
        EXPECT_NEAR(inset.area(d), size - around * d, 2e-6) << d;
}

TEST(Inset, CornersThatOpenAreRoundedOff) {
    // An L: five corners of 90° close, one opens and gets a quarter circle.
    const Region region{polygon({{0, 0}, {5, 0}, {5, 2}, {2, 2}, {2, 5}, {0, 5}}), {}};
    const InsetRegion inset(region);
    const double d = 0.4;
    EXPECT_NEAR(inset.area(d), 16 - 20 * d + 5 * d * d - d * d * std::numbers::pi / 4, 1e-12);
}

TEST(Inset, ABentSideAndAStraightOneMeetWhereBothAreAtTheDistance) {
    const Region region{
        {{Segment::line({0, 0}, {6, 0}), Segment::quadratic({6, 0}, {5, 4}, {0, 4}), Segment::line({0, 4}, {0, 0})}},
        {}};
    const InsetRegion inset(region);
    const InsetContour& contour = inset.contours[0];
    ASSERT_EQ(contour.joints()[1].kind, InsetJoint::Kind::meet);
    const Polygon bend = flattened(Contour{{region.outer.segments[1], Segment::line({0, 4}, {6, 0})}}, 1e-8);
    for (const double d : {0.05, 0.4, 0.9}) {
        const auto at = contour.meeting(1, d);
        ASSERT_TRUE(at);
        EXPECT_NEAR(at->at.y, d, 1e-12);
        double nearest = 1e300;
        for (std::size_t i = 0; i + 1 < bend.size(); ++i)
            nearest = std::min(nearest, distance(bend[i], at->at));
        EXPECT_NEAR(nearest, d, 1e-3);
        EXPECT_FALSE(inset_fault(region, inset, d));
    }
}

TEST(Inset, AStrokeThatNarrowsToNothingIsFound) {
    const Region bar{polygon({{0, 0}, {5, 0}, {5, 0.6}, {0, 0.6}}), {}};
    EXPECT_FALSE(inset_fault(bar, InsetRegion(bar), 0.29));
    EXPECT_TRUE(inset_fault(bar, InsetRegion(bar), 0.299)); // 0.002 mm would be left
    EXPECT_TRUE(inset_fault(bar, InsetRegion(bar), 0.4));
    // Two lobes and a neck between them.
    const Region neck{
        polygon(
            {{0, 0}, {2, 0}, {2, 0.8}, {4, 0.8}, {4, 0}, {6, 0}, {6, 2}, {4, 2}, {4, 1.2}, {2, 1.2}, {2, 2}, {0, 2}}),
        {}};
    EXPECT_FALSE(inset_fault(neck, InsetRegion(neck), 0.15));
    EXPECT_TRUE(inset_fault(neck, InsetRegion(neck), 0.25));
    EXPECT_TRUE(inset_fault(neck, InsetRegion(neck), 0.5));
    // Between two holes it narrows as well.
    const Region holes{polygon({{0, 0}, {5, 0}, {5, 3}, {0, 3}}),
                       {reversed(circle({1.5, 1.5}, 0.8)), reversed(circle({3.5, 1.5}, 0.8))}};
    EXPECT_FALSE(inset_fault(holes, InsetRegion(holes), 0.18));
    EXPECT_TRUE(inset_fault(holes, InsetRegion(holes), 0.21));
}

TEST(Inset, ARoundingThatVanishesIsFound) {
    const Region disc{circle({0, 0}, 1), {}};
    EXPECT_FALSE(inset_fault(disc, InsetRegion(disc), 0.9));
    EXPECT_TRUE(inset_fault(disc, InsetRegion(disc), 1.1));
    EXPECT_TRUE(inset_fault(disc, InsetRegion(disc), 3));
}

} // namespace
} // namespace touchmark::geometry
