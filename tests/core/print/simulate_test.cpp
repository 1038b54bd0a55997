// SPDX-License-Identifier: MIT
// Against closed formulas: what a disc or a line of the nozzle fits into (elementary geometry), a Gaussian over an edge
// (the error function, Abramowitz & Stegun 7.1), layers as whole numbers.
#include "core/print/simulate.h"
#include "tests/core/print/bench_process.h"
#include "tests/core/print/shapes.h"

#include <gtest/gtest.h>

namespace touchmark::print {
namespace {

Printed printed(const geometry::Outline& outline, Standing standing, const process::Process& process) {
    auto out = simulate(outline, standing, process, Progress());
    EXPECT_TRUE(out) << (out ? "" : out.error().message);
    return out ? *std::move(out) : Printed();
}

double at(const Printed& printed, Vec2 mark) {
    return printed.relief.value(printed.from_mark(mark));
}

/// mm² that came out at least half as deep as planned.
double area_of(const Printed& printed) {
    double cells = 0;
    for (const float height : printed.relief.values)
        cells += printed.retained(height) >= 0.5;
    return cells * printed.relief.grid.step_x * printed.relief.grid.step_y;
}

TEST(OnAWall, ARaisedBarNarrowerThanALineIsAsHighAsItsChordOfTheLine) {
    const process::Process process = sharp_profile();
    const double radius = process.printing->least_line_mm.value / 2;
    for (const double width : {0.1, 0.2, 0.3, 0.4}) {
        const Printed out = printed(upright_bar(width), {.mode = Mode::raise}, process);
        EXPECT_NEAR(at(out, {}), radius - std::sqrt(radius * radius - width * width / 4), 0.02) << width;
    }
    EXPECT_NEAR(at(printed(upright_bar(0.6), {.mode = Mode::raise}, process), {}), 0.5, 1e-3);
}

TEST(OnAWall, ACutStrokeKeepsTheShareOfItsDepthThatTheErrorFunctionGives) {
    process::Process process = profile();
    // Hardly a line to round the rims with, and they count less in a deep cut: what is left is spread and smoothing.
    process.line_width_mm.value = 0.02;
    constexpr double depth = 2;
    process.printing->ripple.value = 0;
    const double spread = process.printing->bead_spread_mm.value, sigma = process.printing->smoothing.value * 0.4;
    for (const double width : {0.25, 0.3, 0.4, 0.5, 0.7}) {
        const Printed out = printed(upright_bar(width), {.depth = Mm(depth)}, process);
        const double share = std::erf((width - 2 * spread) / (2 * std::numbers::sqrt2 * sigma));
        EXPECT_NEAR(-at(out, {}) / depth, share, 0.02) << width;
    }
}

TEST(OnAWall, LayersRunAcrossTheDirectionThatIsUpHoweverTheMarkIsTurned) {
    const process::Process process = profile();
    const geometry::Outline level{{bar({-3, -0.15}, {3, 0.15})}}, upright = upright_bar(0.3);
    const double as_is = at(printed(level, {}, process), {});
    EXPECT_NEAR(at(printed(upright, {.up = {1, 0}}, process), {}), as_is, 0.02);
    EXPECT_NEAR(at(printed(level, {.up = {0, -1}}, process), {}), as_is, 0.02);
}

TEST(OnAWall, AStrokeBetweenTheMiddlesOfTwoLayersIsNotDrawn) {
    const process::Process process = sharp_profile(); // layers of 0.2 mm from 0
    EXPECT_NEAR(at(printed({{bar({-3, 0.12}, {3, 0.28})}}, {}, process), {0, 0.2}), 0, 1e-6);
    EXPECT_NEAR(at(printed({{bar({-3, 0.05}, {3, 0.15})}}, {}, process), {0, 0.1}), -0.5, 1e-3);
}

TEST(OnAWall, ALedgeThatALineHoldsStaysAndOneOfThreeLinesSagsByItsSpan) {
    process::Process process = sharp_profile();
    process.printing->bridge_sag.value = 0.1;
    // A groove of four layers, 4 mm long: its roof hangs over it by the whole depth.
    const geometry::Outline groove{{bar({-2, -0.4}, {2, 0.4})}};
    const double held_depth = process.line_width_mm.value / 2 - 0.01,
                 loose_depth = held_depth + 0.02 + 2 * process.line_width_mm.value;
    const Printed held = printed(groove, {.depth = Mm(held_depth)}, process);
    const Printed sagged = printed(groove, {.depth = Mm(loose_depth)}, process);
    const auto open = [&](const Printed& out, double x) {
        double sum = 0;
        for (double y = -0.6; y < 0.6; y += 0.01)
            sum += at(out, {x, y}) < -held_depth / 2 ? 0.01 : 0;
        return sum;
    };
    EXPECT_NEAR(open(held, 0), 0.8, 0.02);
    // In the middle 0.1 × 4 mm, half way to the end three quarters of that: a parabola. Cells are 0.05 mm.
    EXPECT_NEAR(open(sagged, 0), 0.4, 0.06);
    EXPECT_NEAR(open(sagged, 1), 0.5, 0.06);
    EXPECT_NEAR(open(sagged, -1), 0.5, 0.06);
}

TEST(OnASlope, LayersAreFartherApartByTheSineOfTheAngle) {
    const process::Process process = sharp_profile();
    const Printed out = printed(upright_bar(1), {.zone = Zone::slope, .incline = Degrees(30)}, process);
    const int rows = static_cast<int>(std::lround(0.4 / out.relief.grid.step_y)); // 0.2 mm / sin 30°
    EXPECT_NEAR(rows * out.relief.grid.step_y, 0.4, 1e-9);
    // A terrace is a layer's height times cos 30° deep.
    double low = 1e9, high = -1e9;
    for (int row = 0; row < rows; ++row)
        low = std::min<double>(low, out.relief.at(0, row)), high = std::max<double>(high, out.relief.at(0, row));
    EXPECT_NEAR(high - low, 0.2 * std::cos(std::numbers::pi / 6) * (1 - 1.0 / rows), 1e-5);
}

TEST(OnTop, TheDepthIsAWholeNumberOfLayers) {
    const process::Process process = sharp_profile();
    for (const auto& [depth, layers] : {std::pair(0.2, 1), {0.29, 1}, {0.31, 2}, {0.5, 3}, {0.05, 1}, {1.0, 5}}) {
        const Printed out = printed(upright_bar(2), {.zone = Zone::top, .depth = Mm(depth)}, process);
        EXPECT_EQ(out.layers, layers) << depth;
        EXPECT_NEAR(out.depth, layers * 0.2, 1e-9);
        EXPECT_NEAR(at(out, {}), -layers * 0.2, 1e-3);
    }
}

TEST(OnTop, ADiscThatALineFitsIntoStaysASmallerOneIsLeftOut) {
    const process::Process process = sharp_profile();
    const double radius = process.printing->least_line_mm.value / 2;
    const Standing raised{.mode = Mode::raise, .zone = Zone::top};
    const auto disc = [](double r) { return geometry::Outline{{{geometry::contour_of(circle(r)), {}}}}; };
    EXPECT_NEAR(area_of(printed(disc(1), raised, process)), std::numbers::pi, 0.03);
    EXPECT_NEAR(area_of(printed(disc(radius * 1.1), raised, process)), std::numbers::pi * radius * radius * 1.21, 0.03);
    EXPECT_EQ(area_of(printed(disc(radius * 0.9), raised, process)), 0);
}

TEST(OnTop, AWedgeLosesWhatNoLineReachesIntoAtItsTip) {
    const process::Process process = sharp_profile();
    const double r = process.printing->least_line_mm.value / 2;
    for (const double degrees : {30.0, 60.0, 90.0}) {
        const double half = degrees * std::numbers::pi / 360, size = 5;
        // An isosceles triangle; beyond a disc of radius r in a corner of angle a lie r² (cot(a/2) − (π − a)/2).
        const geometry::Polygon wedge{{0, 0}, {size * std::tan(half), size}, {-size * std::tan(half), size}};
        const auto lost = [&](double a) { return r * r * (1 / std::tan(a / 2) - (std::numbers::pi - a) / 2); };
        const double whole = size * size * std::tan(half);
        const double expected = whole - lost(2 * half) - 2 * lost(std::numbers::pi / 2 - half);
        const Printed out =
            printed({{{geometry::contour_of(wedge), {}}}}, {.mode = Mode::raise, .zone = Zone::top}, process);
        EXPECT_NEAR(area_of(out), expected, 0.02) << degrees;
    }
}

TEST(OnTop, RibsOfALatticeNarrowerThanALineFuseTheCutsBesideThem) {
    const process::Process process = sharp_profile();
    const auto lattice = [](double rib) {
        geometry::Outline cuts;
        for (int i = 0; i < 5; ++i)
            cuts.regions.push_back(bar({i * (1 + rib), -3}, {i * (1 + rib) + 1, 3}));
        return cuts;
    };
    const Standing standing{.zone = Zone::top};
    const double width = process.line_width_mm.value;
    const Printed fused = printed(lattice(width - 0.04), standing, process);
    const Printed apart = printed(lattice(width + 0.04), standing, process);
    EXPECT_NEAR(at(fused, {1 + (width - 0.04) / 2, 0}), -fused.depth, 1e-3);
    EXPECT_NEAR(at(apart, {1 + (width + 0.04) / 2, 0}), 0, 1e-3);
}

TEST(OnTheBottom, TheFirstLayerClosesWhatIsNarrowerThanTwiceItsSpread) {
    process::Process process = sharp_profile();
    process.printing->first_layer_spread_mm.value = 0.15;
    const Standing standing{.zone = Zone::bottom};
    EXPECT_NEAR(at(printed(upright_bar(0.29), standing, process), {}), 0, 1e-3);
    const Printed open = printed(upright_bar(0.5), standing, process);
    EXPECT_NEAR(at(open, {}), -open.depth, 1e-3);
}

TEST(OnTheBottom, ASmallIslandComesOffThePlate) {
    const process::Process process = sharp_profile(); // 1 mm²
    const auto with_island = [](double side) {
        geometry::Region ring = bar({-3, -3}, {3, 3});
        ring.holes.push_back(geometry::reversed(rectangle({-side / 2, -side / 2}, {side / 2, side / 2})));
        return geometry::Outline{{ring}};
    };
    EXPECT_EQ(printed(with_island(0.8), {.zone = Zone::bottom}, process).lost_islands, 1U);
    EXPECT_EQ(printed(with_island(1.2), {.zone = Zone::bottom}, process).lost_islands, 0U);
}

TEST(Hidden, AVoidsRoofSagsByAShareOfItsWidth) {
    process::Process process = sharp_profile();
    process.printing->bridge_sag.value = 0.05;
    const Standing hidden{.mode = Mode::hidden, .zone = Zone::bottom, .depth = Mm(0.6)};
    for (const double width : {1.0, 2.0, 4.0}) {
        const Printed out = printed(upright_bar(width, 12), hidden, process);
        EXPECT_NEAR(at(out, {}), 0.6 - 0.05 * width, 0.01) << width;
    }
}

TEST(Simulation, RefusesAProfileWithoutFiguresAndAnEmptyMark) {
    process::Process process = profile();
    EXPECT_EQ(simulate({}, {}, process, Progress()).error().code, "print.empty");
    process.printing.reset();
    EXPECT_EQ(simulate(upright_bar(1), {}, process, Progress()).error().code, "print.no_figures");
    EXPECT_EQ(simulate(upright_bar(1, 3000), {}, profile(), Progress()).error().code, "print.too_large");
}

TEST(Simulation, EndsWhenItIsCancelled) {
    Progress cancelled;
    cancelled.cancel();
    for (const Zone zone : {Zone::side_wall, Zone::top}) {
        const auto out = simulate(upright_bar(1), {.zone = zone}, profile(), cancelled);
        ASSERT_FALSE(out);
        EXPECT_EQ(out.error().code, cancelled_code);
    }
}

} // namespace
} // namespace touchmark::print
