// SPDX-License-Identifier: MIT
#include "app/viewport/shading.h"

#include "app/viewport/look.h"

#include <gmock/gmock.h>

#include <cmath>

namespace touchmark::viewport {
namespace {

/// Relative luminance and contrast ratio of WCAG 2.1.
double luminance(const part::Colour& colour) {
    const auto linear = [](double v) { return v <= 0.03928 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4); };
    return 0.2126 * linear(colour.red) + 0.7152 * linear(colour.green) + 0.0722 * linear(colour.blue);
}
double contrast(const part::Colour& a, const part::Colour& b) {
    const double x = luminance(a) + 0.05, y = luminance(b) + 0.05;
    return std::max(x, y) / std::min(x, y);
}

/// Viénot, Brettel, Mollon 1999: how a colour looks to a protanope and a deuteranope (linear sRGB).
part::Colour as_seen_by_dichromat(const part::Colour& colour, bool protan) {
    const auto linear = [](double v) { return std::pow(v, 2.2); };
    const auto coded = [](double v) { return static_cast<float>(std::pow(std::max(v, 0.0), 1 / 2.2)); };
    const double r = linear(colour.red), g = linear(colour.green), b = linear(colour.blue);
    const double yellow = protan ? 0.11238 * r + 0.88762 * g : 0.29275 * r + 0.70725 * g;
    const double blue = protan ? 0.00401 * r - 0.00401 * g + b : -0.02234 * r + 0.02234 * g + b;
    return {coded(yellow), coded(yellow), coded(blue)};
}

TEST(Shading, BetterIsLighterForEverybody) {
    for (int i = 1; i <= 20; ++i) {
        const part::Colour worse = colour_of_suitability((i - 1) / 20.0), better = colour_of_suitability(i / 20.0);
        EXPECT_GT(luminance(better), luminance(worse)) << i;
        for (const bool protan : {true, false})
            EXPECT_GT(luminance(as_seen_by_dichromat(better, protan)), luminance(as_seen_by_dichromat(worse, protan)));
    }
}

TEST(Shading, CutMarksAndRimsStandOutOnEveryShade) {
    for (const Theme theme : {Theme::light, Theme::dark})
        for (int i = 0; i <= 10; ++i) {
            const part::Colour shade = colour_of_suitability(i / 10.0);
            // A mark is read by its rim and its own surface together: graphics want 3:1 (WCAG 2.1, 1.4.11).
            EXPECT_GE(contrast(look_of(theme).rim, shade), 3) << i;
            EXPECT_GE(
                std::max(contrast(look_of(theme).raised, shade), contrast(look_of(theme).raised, look_of(theme).rim)),
                3);
        }
}

TEST(Shading, HatchesWhatIsToBeAvoidedAndLeavesTheUnratedPlain) {
    process::Process process;
    process.suitability = {{Zone::side_wall, Mode::engrave, {.value = 1.0, .source = "", .assumed = false}, "Best"},
                           {Zone::bottom, Mode::engrave, {.value = 0.1, .source = "", .assumed = false}, "Avoid"}};
    const part::Colour plain{0.5F, 0.5F, 0.5F};
    const ZoneLooks looks = zone_looks(process, Mode::engrave, plain);
    EXPECT_FALSE(looks[static_cast<std::size_t>(Zone::side_wall)].hatched);
    EXPECT_TRUE(looks[static_cast<std::size_t>(Zone::bottom)].hatched);
    EXPECT_EQ(looks[static_cast<std::size_t>(Zone::top)].colour, plain);
    EXPECT_EQ(zone_looks(process, std::nullopt, plain)[static_cast<std::size_t>(Zone::bottom)].colour, plain);
}

} // namespace
} // namespace touchmark::viewport
