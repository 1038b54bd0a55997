// SPDX-License-Identifier: MIT
#include "tests/core/geometry/invariants.h"

#include <chrono>
#include <cmath>

namespace touchmark::geometry {
namespace {

using std::numbers::pi;
using test::circle;
using test::is_valid;
using test::rectangle;

Outline made(std::vector<Contour> contours, FillRule rule = FillRule::nonzero) {
    auto result = outline_from(std::move(contours), {.fill = rule});
    EXPECT_TRUE(result) << (result ? "" : result.error().message);
    return result.value_or(Outline{});
}

int curves_in(const Outline& outline) {
    int count = 0;
    for (const Region& region : outline.regions) {
        for (const Segment& segment : region.outer.segments)
            count += segment.degree > 1;
        for (const Contour& hole : region.holes)
            for (const Segment& segment : hole.segments)
                count += segment.degree > 1;
    }
    return count;
}

TEST(Outline, ContoursThatCrossNothingKeepTheirCurvesBitForBit) {
    const Contour outer = circle({0, 0}, 5), hole = circle({0.1, 0}, -3), island = circle({0, 0.2}, 1);
    const Outline outline = made({outer, hole, island});
    ASSERT_EQ(outline.regions.size(), 2u);
    EXPECT_EQ(outline.regions[0].outer, outer);
    ASSERT_EQ(outline.regions[0].holes.size(), 1u);
    EXPECT_EQ(outline.regions[0].holes[0], hole);
    EXPECT_EQ(outline.regions[1].outer, island);
    EXPECT_TRUE(is_valid(outline));
}

TEST(Outline, TheFillRuleDecidesWhatNestedContoursMean) {
    const std::vector<Contour> same{circle({}, 5), circle({}, 3)};
    EXPECT_EQ(made(same).regions[0].holes.size(), 0u);
    const Outline ring = made(same, FillRule::evenodd);
    ASSERT_EQ(ring.regions.size(), 1u);
    EXPECT_EQ(ring.regions[0].holes.size(), 1u);
    EXPECT_LT(area(ring.regions[0].holes[0]), 0);
    // A clockwise outer contour with a counter-clockwise hole, as many fonts draw it.
    const Outline turned = made({circle({}, -5), circle({}, 3)});
    ASSERT_EQ(turned.regions.size(), 1u);
    EXPECT_EQ(turned.regions[0].holes.size(), 1u);
    EXPECT_TRUE(is_valid(turned));
}

TEST(Outline, TwoCrossingCirclesUniteToTheClosedFormAndStayCurves) {
    // Area of two unit circles at distance d less their lens 2 acos(d/2) - d/2 √(4-d²).
    const double d = 1.2, lens = 2 * std::acos(d / 2) - d / 2 * std::sqrt(4 - d * d);
    const Outline outline = made({circle({0, 0}, 1), circle({d, 0}, 1)});
    ASSERT_EQ(outline.regions.size(), 1u);
    EXPECT_TRUE(is_valid(outline));
    EXPECT_NEAR(area(outline), 2 * pi - lens, 3e-4 * 2 * pi); // the Bézier circle's own error
    EXPECT_NEAR(area(outline), test::clipper_area({circle({0, 0}, 1), circle({d, 0}, 1)}, FillRule::nonzero, 1e-6),
                1e-5);
    EXPECT_LE(outline.regions[0].outer.segments.size(), 10u); // pieces of the eight quarter circles, no polyline
    EXPECT_EQ(curves_in(outline), static_cast<int>(outline.regions[0].outer.segments.size()));
}

TEST(Outline, AContourThatCrossesItselfIsFilledByTheRule) {
    Polygon star;
    for (int i = 0; i < 5; ++i)
        star.push_back({std::cos(4 * pi * i / 5), std::sin(4 * pi * i / 5)});
    const std::vector<Contour> pentagram{contour_of(star)};
    // Pentagram in the unit circle: inner pentagon of circumradius 1/φ².
    const double phi = std::numbers::phi, inner = 1 / (phi * phi);
    const double pentagon = 2.5 * inner * inner * std::sin(2 * pi / 5);
    const double tips = 5 * 0.5 * (2 * inner * std::sin(pi / 5)) * (1 - inner * std::cos(pi / 5));
    const Outline whole = made(pentagram), odd = made(pentagram, FillRule::evenodd);
    EXPECT_TRUE(is_valid(whole));
    EXPECT_NEAR(area(whole), pentagon + tips, 1e-6);
    EXPECT_TRUE(is_valid(odd));
    EXPECT_NEAR(area(odd), tips, 5e-4); // five points of contact become bridges
}

TEST(Outline, ALoopInACubicIsResolved) {
    Contour contour;
    contour.segments = {Segment::cubic({0, 0}, {6, 4}, {-4, 4}, {2, 0}), Segment::line({2, 0}, {2, -1}),
                        Segment::line({2, -1}, {0, -1}), Segment::line({0, -1}, {0, 0})};
    const Outline outline = made({contour});
    EXPECT_TRUE(is_valid(outline));
    EXPECT_NEAR(area(outline), test::clipper_area({contour}, FillRule::nonzero, 1e-7), 1e-4);
}

TEST(Outline, ModulesThatShareEdgesBecomeOneAndCornersAreJoined) {
    std::vector<Contour> modules;
    int dark = 0;
    for (int x = 0; x < 21; ++x)
        for (int y = 0; y < 21; ++y)
            if ((x * 7 + y * 5 + x * y) % 3 != 1) {
                modules.push_back(rectangle({x * 0.6, y * 0.6}, {(x + 1) * 0.6, (y + 1) * 0.6}));
                ++dark;
            }
    const Outline outline = made(modules);
    EXPECT_TRUE(is_valid(outline));
    EXPECT_NEAR(area(outline), dark * 0.36, dark * 2e-4);
}

TEST(Outline, TurnedModulesWhoseCornersNoLongerAgreeToTheLastBitAreJoinedToo) {
    std::vector<Contour> modules;
    int dark = 0;
    for (int x = 0; x < 12; ++x)
        for (int y = 0; y < 12; ++y)
            if ((x * 7 + y * 5 + x * y) % 3 != 1) {
                modules.push_back(transformed(rectangle({x * 0.6, y * 0.6}, {(x + 1) * 0.6, (y + 1) * 0.6}),
                                              Affine::rotation(0.3 + 1e-9 * (x + 3 * y))));
                ++dark;
            }
    const Outline outline = made(modules);
    EXPECT_TRUE(is_valid(outline));
    EXPECT_NEAR(area(outline), dark * 0.36, dark * 2e-4);
}

TEST(Outline, TouchingCirclesAreJoinedOrKeptApartButNeverShareAPoint) {
    for (const double gap : {0.0, 1e-9, 1e-7, 4e-6, -1e-7, -3e-5}) {
        const Outline outline = made({circle({0, 0}, 1), circle({2 + gap, 0}, 1)});
        EXPECT_TRUE(is_valid(outline, 1e-7)) << gap;
        EXPECT_EQ(outline.regions.size(), 1u) << gap;
        EXPECT_NEAR(area(outline), 2 * area(circle({}, 1)), 2e-4);
    }
    EXPECT_EQ(made({circle({0, 0}, 1), circle({2.001, 0}, 1)}).regions.size(), 2u);
}

TEST(Outline, AHoleThatTouchesTheOuterContourIsKeptOffIt) {
    const Outline outline =
        made({rectangle({0, 0}, {10, 10}), reversed(rectangle({0, 4}, {6, 6})), circle({8, 8}, -2)});
    EXPECT_TRUE(is_valid(outline, 1e-7));
    EXPECT_NEAR(area(outline), 100 - 12 - area(circle({}, 2)), 1e-3);
}

TEST(Outline, ZeroThicknessPartsVanish) {
    Polygon flag{{0, 0}, {5, 0}, {5, 5}, {5, 9}, {5, 5}, {0, 5}};
    Polygon hairline{{6, 0}, {9, 0}, {9, 1e-7}, {6, 1e-7}};
    Polygon dot{{20, 20}, {20 + 1e-6, 20}, {20, 20 + 1e-6}};
    Contour folded;
    folded.segments = {Segment::quadratic({0, 20}, {8, 20}, {4, 20}), Segment::line({4, 20}, {0, 20})};
    const Outline outline = made({contour_of(flag), contour_of(hairline), contour_of(dot), folded});
    EXPECT_TRUE(is_valid(outline));
    ASSERT_EQ(outline.regions.size(), 1u);
    EXPECT_NEAR(area(outline), 25, 1e-3);
}

TEST(Outline, ACrackNarrowerThanTheResolutionIsClosed) {
    const Outline outline = made({rectangle({0, 0}, {4, 5}), rectangle({4 + 4e-6, 0}, {8, 5})});
    EXPECT_TRUE(is_valid(outline, 1e-7));
    EXPECT_EQ(outline.regions.size(), 1u);
    EXPECT_NEAR(area(outline), 40, 1e-3);
}

TEST(Outline, OnePassingOverTheSameContourTwiceCountsOnce) {
    const Outline outline = made({circle({}, 2), circle({}, 2)});
    EXPECT_TRUE(is_valid(outline));
    EXPECT_NEAR(area(outline), area(circle({}, 2)), 1e-6);
    EXPECT_EQ(curves_in(outline), 4);
}

TEST(Outline, NotANumberIsRefused) {
    for (const double bad : {std::nan(""), std::numeric_limits<double>::infinity(), 1e300}) {
        auto result = outline_from({rectangle({0, 0}, {1, bad})});
        ASSERT_FALSE(result);
        EXPECT_EQ(result.error().code, "geometry.not_finite");
    }
}

TEST(Outline, HostileInputEndsInBoundedTime) {
    const auto start = std::chrono::steady_clock::now();
    Polygon scribble;
    std::uint64_t state = 1;
    auto next = [&] {
        state = state * 6364136223846793005ull + 1442695040888963407ull;
        return static_cast<double>(state >> 40) / (1 << 24);
    };
    for (int i = 0; i < 20'000; ++i)
        scribble.push_back({100 * next(), 100 * next()});
    auto result = outline_from({contour_of(scribble)});
    ASSERT_FALSE(result);
    EXPECT_EQ(result.error().code, "geometry.too_complex");
    // Many segments without crossings are no attack.
    std::vector<Contour> rows;
    for (int i = 0; i < 4000; ++i)
        rows.push_back(rectangle({i * 0.1, 0}, {i * 0.1 + 0.05, 100}));
    for (int i = 0; i < 2000; ++i)
        rows.push_back(rectangle({1000.0 + i * 0.1, i * 0.1}, {2000.0 - i * 0.1, 1000 - i * 0.1}));
    Contour gear = test::polygon_circle({-500, 0}, 300, 40'000);
    rows.push_back(gear);
    auto fine = outline_from(rows);
    ASSERT_TRUE(fine);
    EXPECT_EQ(fine->regions.size(), 4002u); // the nested squares are one under nonzero
    const std::chrono::duration<double> spent = std::chrono::steady_clock::now() - start;
    EXPECT_LT(spent.count(), 8);
}

TEST(Outline, PerimeterAndContains) {
    const Outline ring = made({circle({}, 5), circle({}, -3)});
    EXPECT_NEAR(perimeter(ring), 16 * pi, 16 * pi * 3e-4);
    EXPECT_TRUE(contains(ring, {4, 0}));
    EXPECT_FALSE(contains(ring, {0, 0}));
    EXPECT_FALSE(contains(ring, {6, 0}));
}

TEST(Outline, GrowingARectangleRoundsItsCorners) {
    // Steiner: area + perimeter·d + π·d².
    const Outline grownBy = grown(made({rectangle({0, 0}, {4, 3})}), 0.5, 1e-4);
    EXPECT_NEAR(area(grownBy), 12 + 14 * 0.5 + pi * 0.25, 1e-3);
    EXPECT_TRUE(is_valid(grownBy));
    EXPECT_NEAR(area(grown(made({rectangle({0, 0}, {4, 3})}), -0.5)), 6, 1e-4);
    EXPECT_TRUE(grown(made({rectangle({0, 0}, {4, 0.9})}), -0.5).empty());
}

TEST(Outline, BooleansOfTwoSquares) {
    const Outline a = made({rectangle({0, 0}, {2, 2})}), b = made({rectangle({1, 1}, {3, 3})});
    EXPECT_NEAR(area(united(a, b)), 7, 1e-6);
    EXPECT_NEAR(area(intersection(a, b)), 1, 1e-6);
    EXPECT_NEAR(area(difference(a, b)), 3, 1e-6);
    EXPECT_TRUE(intersection(a, made({rectangle({5, 5}, {6, 6})})).empty());
}

TEST(Outline, TheDigestFollowsTheContent) {
    auto digest = [](const Outline& outline) {
        Digester digester;
        add(digester, outline);
        return digester.digest();
    };
    const Outline a = made({circle({}, 5)}), b = made({circle({}, 5), circle({}, -3)});
    EXPECT_EQ(digest(a), digest(made({circle({}, 5)})));
    EXPECT_NE(digest(a), digest(b));
    EXPECT_NE(digest(a), digest(transformed(a, Affine::translation({1e-9, 0}))));
}

} // namespace
} // namespace touchmark::geometry
