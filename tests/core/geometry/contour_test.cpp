// SPDX-License-Identifier: MIT
#include "tests/core/geometry/invariants.h"

#include <random>

namespace touchmark::geometry {
namespace {

using std::numbers::pi;

Contour random_curves(std::mt19937& random, int count) {
    std::uniform_real_distribution<double> at(-5, 5);
    auto point = [&] { return Vec2{at(random), at(random)}; };
    Contour contour;
    const Vec2 first = point();
    Vec2 from = first;
    for (int i = 0; i < count; ++i) {
        const Vec2 to = i + 1 == count ? first : point();
        const Vec2 u = point(), v = point();
        contour.segments.push_back(i % 3 == 0   ? Segment::line(from, to)
                                   : i % 3 == 1 ? Segment::quadratic(from, u, to)
                                                : Segment::cubic(from, u, v, to));
        from = to;
    }
    return contour;
}

TEST(Contour, AreaOfCurvesIsThatOfTheirFinePolygon) {
    std::mt19937 random(1);
    for (int i = 0; i < 50; ++i) {
        const Contour contour = random_curves(random, 7);
        EXPECT_NEAR(area(contour), area(flattened(contour, 1e-8)), 1e-5);
    }
}

TEST(Contour, AreaUnderAParabolaIsTwoThirdsOfItsBox) {
    // Archimedes: the segment of a parabola is 2/3 of base × height.
    Contour contour;
    contour.segments = {Segment::line({0, 0}, {4, 0}), Segment::quadratic({4, 0}, {2, 6}, {0, 0})};
    EXPECT_DOUBLE_EQ(area(contour), 4 * 3 * 2.0 / 3.0);
    EXPECT_DOUBLE_EQ(area(reversed(contour)), -area(contour));
}

TEST(Contour, AreaFarFromTheOriginKeepsItsDigits) {
    const Contour contour = transformed(test::rectangle({0, 0}, {1, 1}), Affine::translation({1e8, -1e8}));
    EXPECT_DOUBLE_EQ(area(contour), 1);
}

TEST(Contour, BoundsAreThoseOfTheCurveNotOfItsControlPoints) {
    Contour contour;
    contour.segments = {Segment::line({0, 0}, {4, 0}), Segment::quadratic({4, 0}, {2, 6}, {0, 0})};
    EXPECT_DOUBLE_EQ(bounds(contour).high.y, 3);
    std::mt19937 random(2);
    for (int i = 0; i < 50; ++i) {
        const Contour curves = random_curves(random, 5);
        Box2 sampled;
        for (const Vec2 p : flattened(curves, 1e-8))
            sampled.add(p);
        EXPECT_NEAR(bounds(curves).low.x, sampled.low.x, 1e-6);
        EXPECT_NEAR(bounds(curves).high.y, sampled.high.y, 1e-6);
        EXPECT_LE(bounds(curves).low.y, sampled.low.y + 1e-12);
    }
}

TEST(Contour, FlatteningStaysWithinItsTolerance) {
    std::mt19937 random(3);
    for (const double tolerance : {1e-1, 1e-2, 1e-4}) {
        const Contour curves = random_curves(random, 6);
        const Polygon polygon = flattened(curves, tolerance);
        for (const Segment& segment : curves.segments)
            for (int i = 0; i <= 200; ++i)
                EXPECT_LE(distance_to_boundary(polygon, point_at(segment, i / 200.0)), tolerance);
    }
    EXPECT_EQ(flattened(test::rectangle({0, 0}, {100, 1}), 1e-9).size(), 4u);
}

TEST(Contour, SplittingKeepsTheCurve) {
    const Segment cubic = Segment::cubic({0, 0}, {1, 5}, {4, -3}, {6, 1});
    const auto parts = split(cubic, 0.3);
    for (int i = 0; i <= 10; ++i) {
        const double t = i / 10.0;
        EXPECT_LT(distance(point_at(parts[0], t), point_at(cubic, 0.3 * t)), 1e-14);
        EXPECT_LT(distance(point_at(parts[1], t), point_at(cubic, 0.3 + 0.7 * t)), 1e-14);
    }
    EXPECT_EQ(parts[0].end(), parts[1].start());
    EXPECT_EQ(reversed(reversed(cubic)), cubic);
}

TEST(Contour, AffineMapsComposeRightToLeft) {
    const Affine turn = Affine::rotation(pi / 2), move = Affine::translation({1, 0});
    EXPECT_LT(distance((turn * move)({0, 0}), {0, 1}), 1e-15);
    EXPECT_LT(distance((move * turn)({0, 0}), {1, 0}), 1e-15);
    EXPECT_NEAR(area(transformed(test::circle({1, 2}, 3), Affine::scale(2) * turn)), 4 * area(test::circle({}, 3)),
                1e-12);
}

TEST(Contour, WindingCountsTurnsOfAPolygon) {
    const Polygon twice{{0, 0}, {4, 0}, {4, 4}, {0, 4}, {0, 0}, {4, 0}, {4, 4}, {0, 4}};
    EXPECT_EQ(winding(twice, {1, 1}), 2);
    EXPECT_EQ(winding(twice, {5, 1}), 0);
    EXPECT_EQ(winding(twice, {-1, 0}), 0);
}

} // namespace
} // namespace touchmark::geometry
