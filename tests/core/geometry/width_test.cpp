// SPDX-License-Identifier: MIT
#include "core/geometry/width.h"

#include "tests/core/geometry/invariants.h"

#include <cmath>

namespace touchmark::geometry {
namespace {

using std::numbers::pi;
using test::circle;
using test::rectangle;

Outline made(std::vector<Contour> contours) {
    auto result = outline_from(std::move(contours));
    EXPECT_TRUE(result);
    return result.value_or(Outline{});
}

Contour polygon(std::initializer_list<Vec2> points) {
    return contour_of(std::vector<Vec2>(points));
}

/// What every entry promises: its disc touches the boundary at both sides and nowhere holds any of it.
void expect_true_discs(const std::vector<Narrow>& narrows, const Outline& outline, bool in_material) {
    const std::vector<Polygon> polygons = flattened(outline, 1e-4);
    for (const Narrow& narrow : narrows) {
        double least = 1e9;
        for (const Polygon& p : polygons)
            least = std::min(least, distance_to_boundary(p, narrow.at));
        EXPECT_NEAR(2 * least, narrow.width, 6e-3);
        EXPECT_NEAR(distance(narrow.at, narrow.side_a), narrow.width / 2, 6e-3);
        EXPECT_NEAR(distance(narrow.at, narrow.side_b), narrow.width / 2, 6e-3);
        EXPECT_EQ(contains(outline, narrow.at), in_material);
    }
}

TEST(Width, ABarIsAsWideAsItsShortSide) {
    for (const double angle : {0.0, 0.3, pi / 4}) {
        const Outline bar = made({transformed(rectangle({0, 0}, {7, 0.4}), Affine::rotation(angle))});
        const auto widths = stroke_widths(bar);
        ASSERT_EQ(widths.size(), 1u);
        EXPECT_NEAR(widths[0].width, 0.4, 1e-5);
        EXPECT_LT(distance(widths[0].at, Affine::rotation(angle)({3.5, 0.2})), 1e-3);
        EXPECT_TRUE(gap_widths(bar).empty());
        expect_true_discs(widths, bar, true);
    }
}

TEST(Width, AStretchRunsAlongItsBar) {
    for (const double angle : {0.0, 0.3, pi / 4, pi / 2}) {
        const Outline bar = made({transformed(rectangle({0, 0}, {7, 0.4}), Affine::rotation(angle))});
        const Widths all = widths(bar);
        double length = 0;
        for (const Stretch& stretch : all.stroke_stretches) {
            EXPECT_NEAR(std::abs(dot(stretch.along, Affine::rotation(angle)({1, 0}))), 1, 1e-6);
            EXPECT_NEAR(stretch.width, 0.4, 1e-5);
            length += stretch.length;
        }
        EXPECT_NEAR(length, 6.6, 0.01); // between the discs at its ends
    }
}

TEST(Width, ARingIsAsWideAsTheDifferenceOfItsRadii) {
    const Outline ring = made({circle({}, 5), circle({}, -4.4)});
    const auto widths = stroke_widths(ring);
    ASSERT_EQ(widths.size(), 1u);
    EXPECT_NEAR(widths[0].width, 0.6, 5e-3);
    expect_true_discs(widths, ring, true);
    // Its counter is open: no two sides of a disc face each other closer than its diameter.
    for (const Narrow& gap : gap_widths(ring))
        EXPECT_NEAR(gap.width, 8.8, 0.02);
}

TEST(Width, AnEccentricRingIsNarrowestWhereItIsThin) {
    const Outline ring = made({circle({}, 5), circle({0.4, 0}, -4)});
    const auto widths = stroke_widths(ring);
    ASSERT_FALSE(widths.empty());
    EXPECT_NEAR(widths[0].width, 0.6, 5e-3);
    EXPECT_NEAR(widths[0].at.x, 4.7, 0.02);
}

TEST(Width, ADiscIsAsWideAsItsDiameterAndASquareAsItsSide) {
    const auto disc = stroke_widths(made({circle({1, 2}, 0.35)}));
    ASSERT_EQ(disc.size(), 1u);
    EXPECT_NEAR(disc[0].width, 0.7, 5e-3);
    const auto square = stroke_widths(made({rectangle({0, 0}, {0.5, 0.5})}));
    ASSERT_EQ(square.size(), 1u);
    EXPECT_NEAR(square[0].width, 0.5, 1e-4);
}

TEST(Width, ATriangleIsMeasuredByItsInscribedCircle) {
    // Equilateral: inradius = side / (2√3). Its corners are corners, not strokes.
    const auto widths = stroke_widths(made({polygon({{0, 0}, {6, 0}, {3, 3 * std::sqrt(3.0)}})}));
    ASSERT_EQ(widths.size(), 1u);
    EXPECT_NEAR(widths[0].width, 6 / std::sqrt(3.0), 1e-3);
}

TEST(Width, ABluntWedgeIsMeasuredAtItsNarrowEnd) {
    // A trapezium 1.0 → 0.3 over 10: the disc that touches both flanks and the narrow end.
    const double half_angle = std::atan(0.35 / 10);
    const auto widths = stroke_widths(made({polygon({{0, -0.5}, {10, -0.15}, {10, 0.15}, {0, 0.5}})}));
    ASSERT_EQ(widths.size(), 1u);
    // r from the end: (0.15 + r tan a) cos a = r.
    const double r = 0.15 * std::cos(half_angle) / (1 - std::sin(half_angle));
    EXPECT_NEAR(widths[0].width, 2 * r, 1e-3);
    EXPECT_NEAR(widths[0].at.x, 10 - r, 1e-2);
}

TEST(Width, APointedStrokeIsMeasuredItsOwnWidthFromTheTip) {
    // A needle: base 1 at x = 0, tip at x = 10; the inscribed disc at distance d from the tip has radius d sin a.
    const double half_angle = std::atan(0.05);
    const auto widths = stroke_widths(made({polygon({{0, -0.5}, {10, 0}, {0, 0.5}})}));
    ASSERT_EQ(widths.size(), 1u);
    const double r = 10 * std::tan(half_angle) * std::cos(half_angle) / (1 + std::sin(half_angle)); // touches the base
    EXPECT_NEAR(widths[0].width, 2 * (2 * r) * std::sin(half_angle), 1e-2);
}

TEST(Width, ASharpenedBarKeepsTheWidthOfItsBar) {
    const auto widths = stroke_widths(made({polygon({{0, 0}, {8, 0}, {8.5, 0.25}, {8, 0.5}, {0, 0.5}})}));
    ASSERT_EQ(widths.size(), 1u);
    EXPECT_NEAR(widths[0].width, 0.5, 1e-4);
    const auto slanted = stroke_widths(made({polygon({{0, 0}, {8, 0}, {8.3, 0.5}, {0.3, 0.5}})}));
    ASSERT_EQ(slanted.size(), 1u);
    EXPECT_NEAR(slanted[0].width, 0.5, 1e-4);
}

TEST(Width, ALatticeHasItsBarsAndItsHoles) {
    std::vector<Contour> contours{rectangle({0, 0}, {6.5, 6.5})};
    for (int x = 0; x < 3; ++x)
        for (int y = 0; y < 3; ++y)
            contours.push_back(reversed(rectangle({0.5 + 2 * x, 0.5 + 2 * y}, {2.0 + 2 * x, 2.0 + 2 * y})));
    const Outline lattice = made(contours);
    const auto widths = stroke_widths(lattice);
    EXPECT_EQ(widths.size(), 24u); // 4 × 3 bars either way
    for (const Narrow& narrow : widths)
        EXPECT_NEAR(narrow.width, 0.5, 1e-4);
    const auto gaps = gap_widths(lattice);
    for (const Narrow& gap : gaps)
        EXPECT_NEAR(gap.width, 1.5, 1e-4);
    expect_true_discs(widths, lattice, true);
}

TEST(Width, GapsLieBetweenRegionsInSlotsAndInCounters) {
    const Outline pair = made({rectangle({0, 0}, {1, 5}), rectangle({1.3, 0}, {2.3, 5})});
    const auto gaps = gap_widths(pair);
    ASSERT_EQ(gaps.size(), 1u);
    EXPECT_NEAR(gaps[0].width, 0.3, 1e-5);
    EXPECT_NE(gaps[0].region, gaps[0].other_region);
    EXPECT_LT(distance(gaps[0].at, {1.15, 2.5}), 1e-3);

    const auto round = gap_widths(made({circle({0, 0}, 1), circle({2.25, 0}, 1)}));
    ASSERT_EQ(round.size(), 1u);
    EXPECT_NEAR(round[0].width, 0.25, 5e-3);

    const Outline u = made({polygon({{0, 0}, {3, 0}, {3, 4}, {2, 4}, {2, 1}, {1.4, 1}, {1.4, 4}, {0, 4}})});
    const auto slot = gap_widths(u);
    ASSERT_EQ(slot.size(), 1u);
    EXPECT_NEAR(slot[0].width, 0.6, 1e-5);
    EXPECT_EQ(slot[0].region, slot[0].other_region);

    const auto counter = gap_widths(made({rectangle({0, 0}, {5, 3}), reversed(rectangle({1, 1}, {4, 1.7}))}));
    ASSERT_EQ(counter.size(), 1u);
    EXPECT_NEAR(counter[0].width, 0.7, 1e-5);
}

TEST(Width, ATriangularCounterIsAsWideAsTheLargestDiscInIt) {
    // 3-4-5: the inscribed circle has radius (3 + 4 − 5) / 2 = 1.
    const Outline triangle = made({rectangle({-2, -2}, {7, 7}), polygon({{0, 0}, {0, 3}, {4, 0}})});
    const auto gaps = gap_widths(triangle);
    ASSERT_EQ(gaps.size(), 1u);
    EXPECT_NEAR(gaps[0].width, 2, 1e-4);
    EXPECT_LT(distance(gaps[0].at, {1, 1}), 1e-3);
    expect_true_discs(gaps, triangle, false);
}

TEST(Width, ACornerIsNoGap) {
    EXPECT_TRUE(gap_widths(made({polygon({{0, 0}, {5, 0}, {5, 1}, {1, 1}, {1, 5}, {0, 5}})})).empty());
}

TEST(Width, LettersOfIso3098TypeBHaveStrokesOfATenthOfTheirHeight) {
    // ISO 3098 type B: stroke h/10 (published). H, L and T drawn by hand as bars, h = 5.
    const double h = 5, s = h / 10;
    const Outline letters =
        made({rectangle({0, 0}, {s, h}), rectangle({2.5, 0}, {2.5 + s, h}), rectangle({0, h / 2}, {2.5 + s, h / 2 + s}),
              polygon({{5, 0}, {7.5, 0}, {7.5, s}, {5 + s, s}, {5 + s, h}, {5, h}}), rectangle({10, h - s}, {13, h}),
              rectangle({11.25, 0}, {11.25 + s, h})});
    ASSERT_EQ(letters.regions.size(), 3u);
    const auto widths = stroke_widths(letters);
    std::vector<int> count(3, 0);
    for (const Narrow& narrow : widths) {
        EXPECT_NEAR(narrow.width, s, 1e-4);
        ++count[narrow.region];
    }
    EXPECT_EQ(count, (std::vector{5, 2, 3})); // H: four half stems and the bar; L: two; T: three
    expect_true_discs(widths, letters, true);
    const auto gaps = gap_widths(letters);
    ASSERT_FALSE(gaps.empty());
    EXPECT_NEAR(gaps[0].width, 2.0, 1e-4); // H to L: 5 - 3
}

TEST(Width, CurvesCloserThanTheToleranceAreStillMeasured) {
    const Outline ring = made({circle({}, 5), circle({}, -4.9995)});
    const auto widths = stroke_widths(ring);
    ASSERT_FALSE(widths.empty());
    EXPECT_NEAR(widths[0].width, 0.0005, 3e-4);
}

TEST(Width, OnlyPlacesBelowTheLimitAreReported) {
    const Outline two = made({rectangle({0, 0}, {5, 0.3}), rectangle({0, 2}, {5, 2.8})});
    EXPECT_EQ(stroke_widths(two).size(), 2u);
    const auto narrow = stroke_widths(two, {.below = 0.5});
    ASSERT_EQ(narrow.size(), 1u);
    EXPECT_EQ(narrow[0].region, 0u);
    EXPECT_TRUE(stroke_widths({}).empty());
    EXPECT_TRUE(gap_widths({}).empty());
}

} // namespace
} // namespace touchmark::geometry
