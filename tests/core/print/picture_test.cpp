// SPDX-License-Identifier: MIT
#include "core/print/picture.h"

#include "tests/core/print/bench_process.h"
#include "tests/core/print/shapes.h"

#include <gtest/gtest.h>

namespace touchmark::print {
namespace {

constexpr double scale = 10; // pixels a mm

Picture pictured(const geometry::Outline& outline, const Standing& standing, bool departures = true,
                 const Light& light = {}) {
    const process::Process process = profile();
    return picture_of(simulate(outline, standing, process, Progress()).value(), standing.mode, *process.printing, scale,
                      departures, light);
}

int count(const Picture& picture, const std::array<std::uint8_t, 3>& colour) {
    return static_cast<int>(std::ranges::count(picture.pixels, colour));
}

TEST(Picture, ShowsALostStrokeInItsColourAndAFusedGapInAnother) {
    const Standing raised{.mode = Mode::raise};
    const Picture lost = pictured(upright_bar(0.3), raised);
    EXPECT_GT(count(lost, lost_colour), 40);
    EXPECT_EQ(count(lost, fused_colour), 0);
    const geometry::Outline close{{bar({-1.2, -3}, {-0.2, 3}), bar({0.2, -3}, {1.2, 3})}};
    const Picture fused = pictured(close, {.zone = Zone::top});
    EXPECT_GT(count(fused, fused_colour), 40);
    EXPECT_EQ(count(fused, lost_colour), 0);
    EXPECT_EQ(count(pictured(upright_bar(0.3), raised, false), lost_colour), 0);
}

TEST(Picture, IsInTheMarksOwnFrameHoweverTheLayersRun) {
    const geometry::Outline wide{{bar({-8, -1}, {8, 1})}};
    for (const Vec2 up : {Vec2{0, 1}, Vec2{1, 0}, Vec2{0, -1}}) {
        const Picture picture = pictured(wide, {.up = up});
        EXPECT_NEAR(picture.width, (16 + 5) * scale, 12);
        EXPECT_NEAR(picture.height, (2 + 5) * scale, 12);
    }
}

TEST(Picture, ARimTowardsTheLightIsBrighterThanTheOneAway) {
    // Raised, lit from the left: its left flank shines, its right one is dark.
    const Picture picture = pictured(upright_bar(4), {.mode = Mode::raise}, false, {.from = Degrees(180)});
    const int middle = picture.height / 2, centre = picture.width / 2;
    EXPECT_GT(picture.at(centre - 20, middle)[0], picture.at(centre, middle)[0]);
    EXPECT_LT(picture.at(centre + 20, middle)[0], picture.at(centre, middle)[0]);
}

/// Beer and Lambert: light falls by the exponential of attenuation times thickness, so a void that is d thinner is
/// brighter by e^(attenuation d).
TEST(Picture, AHiddenMarkIsBrighterByTheLightThatItsVoidLetsThrough) {
    process::Process process = profile();
    process.printing->attenuation_per_mm.value = 1.3;
    process.printing->bridge_sag.value = 0;
    const Standing hidden{.mode = Mode::hidden, .zone = Zone::bottom, .depth = Mm(0.6)};
    const Picture picture = picture_of(simulate(upright_bar(4), hidden, process, Progress()).value(), Mode::hidden,
                                       *process.printing, scale, false);
    EXPECT_EQ(picture.at(picture.width / 2, picture.height / 2)[0], 255);
    EXPECT_NEAR(picture.at(2, 2)[0], 255 * std::exp(-1.3 * 0.6), 1);
}

} // namespace
} // namespace touchmark::print
