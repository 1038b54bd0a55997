// SPDX-License-Identifier: MIT
#include "app/viewport/cividis.h"

#include <gtest/gtest.h>

#include <cmath>

namespace touchmark::viewport {
namespace {

/// CIE 1976 lightness of an sRGB colour (IEC 61966-2-1, CIE 15).
double lightness(const part::Colour& colour) {
    const auto linear = [](double v) { return v <= 0.04045 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4); };
    const double y = 0.2126 * linear(colour.red) + 0.7152 * linear(colour.green) + 0.0722 * linear(colour.blue);
    return y > 216.0 / 24389 ? 116 * std::cbrt(y) - 16 : y * 24389 / 27;
}

/// Rows of the table published with Nuñez, Anderton, Renslow 2018 (doi 10.1371/journal.pone.0199239) that lie between
/// those the ramp is made from.
TEST(Cividis, MatchesThePublishedTable) {
    const struct {
        int row;
        part::Colour colour;
    } published[] = {{0, {0.000000F, 0.135112F, 0.304751F}},   {8, {0.000000F, 0.157932F, 0.357521F}},
                     {64, {0.263738F, 0.307831F, 0.422789F}},  {100, {0.394568F, 0.406236F, 0.438986F}},
                     {128, {0.488697F, 0.485318F, 0.471008F}}, {173, {0.660082F, 0.619904F, 0.451534F}},
                     {200, {0.769353F, 0.707035F, 0.408516F}}, {231, {0.901195F, 0.814639F, 0.317021F}},
                     {248, {0.977780F, 0.877281F, 0.227954F}}, {255, {0.995737F, 0.909344F, 0.217772F}}};
    for (const auto& [row, colour] : published) {
        const part::Colour ours = cividis(row / 255.0);
        EXPECT_NEAR(ours.red, colour.red, 0.012) << row;
        EXPECT_NEAR(ours.green, colour.green, 0.012) << row;
        EXPECT_NEAR(ours.blue, colour.blue, 0.02) << row;
    }
}

TEST(Cividis, GrowsLighterAllTheWay) {
    for (int i = 1; i <= 200; ++i)
        EXPECT_GT(lightness(cividis(i / 200.0)), lightness(cividis((i - 1) / 200.0))) << i;
}

TEST(Cividis, StopsAtItsEnds) {
    EXPECT_EQ(cividis(-3), cividis(0));
    EXPECT_EQ(cividis(3), cividis(1));
}

} // namespace
} // namespace touchmark::viewport
