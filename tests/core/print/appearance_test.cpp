// SPDX-License-Identifier: MIT
#include "core/print/appearance.h"

#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <numbers>

namespace touchmark::print {
namespace {

constexpr double pixels = 20; // a mm

/// A field of 12 × 12 mm about the origin.
Printed surface(const std::function<double(Vec2)>& height, double depth) {
    Printed out;
    out.relief = Field(Grid{480, 480, {-6, -6}, 0.025, 0.025});
    out.ideal = out.relief;
    out.depth = depth;
    for (int y = 0; y < 480; ++y)
        for (int x = 0; x < 480; ++x)
            out.relief.at(x, y) = static_cast<float>(height(out.relief.grid.middle(x, y)));
    return out;
}

float middle(const Printed& printed, Lighting lighting) {
    const Box2 box{{-6, -6}, {6, 6}};
    const Brightness seen = appearance(printed, nullptr, lighting, box, pixels, Progress()).value();
    return seen.at(seen.width / 2, seen.height / 2);
}

TEST(Appearance, OfThePlainFaceIsItsOwnBrightness) {
    const Printed flat = surface([](Vec2) { return 0.0; }, 0.5);
    for (const Lighting lighting : lightings(Mode::engrave))
        EXPECT_NEAR(middle(flat, lighting), 1, 1e-5) << title_of(lighting);
}

// The floor's middle of a long trench of width w and depth d sees (w/2) / √((w/2)² + d²) of an even sky: the view
// factor of an infinite strip (M. F. Modest, "Radiative Heat Transfer", appendix of view factors; from memory, and it
// follows by integrating cos² of the horizon over all directions).
TEST(Appearance, OfATrenchInAnEvenLightIsItsViewFactor) {
    for (const double depth : {0.5, 1.0, 2.0})
        for (const double width : {0.6, 1.2, 2.4}) {
            const Printed trench = surface([&](Vec2 p) { return std::abs(p.x) < width / 2 ? -depth : 0.0; }, depth);
            const double factor = width / 2 / std::hypot(width / 2, depth);
            EXPECT_NEAR(middle(trench, Lighting::diffuse), factor, 0.06) << depth << " deep, " << width << " wide";
        }
}

TEST(Appearance, AWallThrowsAShadowAsLongAsTheLightIsLow) {
    // A wall 1 mm high to the left: light at 30° from there reaches the ground 1 / tan 30° = 1.73 mm behind it.
    for (const double from_wall : {1.5, 2.0}) {
        const Printed ground = surface([&](Vec2 p) { return p.x < -from_wall ? 1.0 : 0.0; }, 1);
        const double lit = middle(ground, Lighting::from_left), shade = middle(ground, Lighting::diffuse);
        if (from_wall < 1 / std::tan(30 * std::numbers::pi / 180))
            EXPECT_LT(lit, 0.5 * shade);
        else
            EXPECT_GT(lit, 0.5 * shade + 0.3);
    }
}

TEST(Appearance, OfAnInlayIsItsTwoColours) {
    const Printed inlay = surface([](Vec2 p) { return p.x < 0 ? -0.5 : 0.0; }, 0.5);
    const Brightness seen =
        appearance(inlay, nullptr, Lighting::two_colours, {{-1, -1}, {1, 1}}, pixels, Progress()).value();
    EXPECT_NEAR(seen.at(5, 20), 0, 1e-6);
    EXPECT_NEAR(seen.at(35, 20), 1, 1e-6);
}

} // namespace
} // namespace touchmark::print
