// SPDX-License-Identifier: MIT
#include "core/print/light_through.h"

#include <gtest/gtest.h>

#include <cmath>

namespace touchmark::print {
namespace {

process::Printing figures(double attenuation) {
    process::Printing out;
    out.attenuation_per_mm.value = attenuation;
    out.scatter.value = 0;
    return out;
}

/// A void of one height in the left half of a field.
Printed half_void(double height) {
    Printed out;
    out.relief = Field(Grid{80, 40, {-2, -1}, 0.05, 0.05});
    out.ideal = out.relief;
    out.depth = height;
    for (int y = 0; y < 40; ++y)
        for (int x = 0; x < 40; ++x) {
            out.relief.at(x, y) = static_cast<float>(height);
            out.ideal.at(x, y) = 1;
        }
    return out;
}

constexpr Box2 box{{-1, -0.5}, {1, 0.5}};

// The law of Lambert and Beer, T = exp(-μ t) (e.g. IUPAC, Compendium of Chemical Terminology): of a slab with a slot
// the contrast does not depend on its thickness. Michelson's: tanh(μ h / 2).
TEST(LightThrough, OfASlabWithASlotIsThatOfTheLaw) {
    for (const double attenuation : {0.5, 1.0, 2.0})
        for (const double height : {0.3, 0.6, 1.2})
            for (const double wall : {2.0, 5.0}) {
                const Printed printed = half_void(height);
                const LightThrough light = light_through(printed, Field(printed.relief.grid, static_cast<float>(wall)),
                                                         0.8, figures(attenuation), std::span(&box, 1));
                EXPECT_NEAR(light.glow.at(10, 20), std::exp(-attenuation * (wall - height)), 1e-6);
                EXPECT_NEAR(light.glow.at(70, 20), std::exp(-attenuation * wall), 1e-6);
                EXPECT_NEAR(light.contrast.front(), std::tanh(attenuation * height / 2), 1e-5);
                EXPECT_FALSE(light.measured);
            }
    // μ = 0.5 / mm, h = 0.6 mm: 0.149, and 0.350 by Weber's (computed from the law).
    const Printed printed = half_void(0.6);
    const LightThrough light =
        light_through(printed, Field(printed.relief.grid, 3), 0.8, figures(0.5), std::span(&box, 1));
    EXPECT_NEAR(light.least_contrast(), 0.149, 5e-4);
    EXPECT_NEAR(light.glow.at(10, 20) / light.glow.at(70, 20) - 1, 0.350, 5e-4);
}

TEST(LightThrough, GoesByTheShopsWedgeWhereThereIsOne) {
    process::Printing shop = figures(1);
    shop.wedge = {{0.5, -0.4}, {1, -0.6}, {2, -0.9}};
    EXPECT_DOUBLE_EQ(log_transmission(shop, 1), -0.6);
    EXPECT_DOUBLE_EQ(log_transmission(shop, 0.75), -0.5);
    EXPECT_NEAR(log_transmission(shop, 1.5), -0.75, 1e-12);
    EXPECT_NEAR(log_transmission(shop, 4), -1.5, 1e-12) << "the last line goes on";
    EXPECT_NEAR(log_transmission(shop, 0.25), -0.3, 1e-12) << "and so does the first";
    EXPECT_LE(log_transmission(shop, 0), 0);
    const Printed printed = half_void(0.6);
    const LightThrough light = light_through(printed, Field(printed.relief.grid, 1.6F), 0.8, shop, std::span(&box, 1));
    EXPECT_TRUE(light.measured);
    EXPECT_NEAR(light.glow.at(10, 20), std::pow(10, -0.6), 1e-6);
}

TEST(LightThrough, IsBlurredByTheSkinAsTheErrorFunction) {
    process::Printing shop = figures(1);
    shop.scatter.value = 0.5;
    const Printed printed = half_void(0.6);
    const LightThrough light = light_through(printed, Field(printed.relief.grid, 2), 0.8, shop, std::span(&box, 1));
    const double bright = std::exp(-1.4), dark = std::exp(-2.0), sigma = 0.4;
    for (int x = 10; x < 70; ++x) {
        const double at = printed.relief.grid.middle(x, 20).x;
        EXPECT_NEAR(light.glow.at(x, 20), dark + (bright - dark) * (1 - std::erf(at / sigma / std::sqrt(2.0))) / 2,
                    3e-3);
    }
    EXPECT_LT(light.least_contrast(), std::tanh(0.3));
}

} // namespace
} // namespace touchmark::print
