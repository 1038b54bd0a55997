// SPDX-License-Identifier: MIT
#include "core/fitting/wedge.h"

#include "core/print/light_through.h"
#include "tests/core/fitting/shop.h"

#include <gtest/gtest.h>

#include <cmath>

namespace touchmark::fitting {
namespace {

TEST(Line, IsTheOneThatNistCertifies) {
    // NIST Statistical Reference Datasets, Linear Least Squares, "Norris" (from memory; that data and certified figures
    // go together to fourteen digits shows that both are remembered right).
    const std::vector<std::pair<double, double>> norris{
        {0.2, 0.1},     {337.4, 338.8}, {118.2, 118.1}, {884.6, 888.0}, {10.1, 9.2},    {226.5, 228.1},
        {666.3, 668.5}, {996.3, 998.5}, {448.6, 449.1}, {777.0, 778.9}, {558.2, 559.2}, {0.4, 0.3},
        {0.6, 0.1},     {775.5, 778.1}, {666.9, 668.8}, {338.0, 339.3}, {447.5, 448.9}, {11.6, 10.8},
        {556.0, 557.7}, {228.1, 228.3}, {995.8, 998.0}, {887.6, 888.8}, {120.2, 119.6}, {0.3, 0.3},
        {0.3, 0.6},     {556.8, 557.6}, {339.1, 339.3}, {887.2, 888.0}, {999.0, 998.5}, {779.0, 778.9},
        {11.1, 10.2},   {118.3, 117.6}, {229.2, 228.9}, {669.1, 668.4}, {448.9, 449.2}, {0.5, 0.2}};
    const auto line = line_through(norris);
    ASSERT_TRUE(line);
    EXPECT_NEAR(line->intercept, -0.262323073774029, 1e-11);
    EXPECT_NEAR(line->slope, 1.00211681802045, 1e-13);
    EXPECT_NEAR(line->intercept_deviation, 0.232818234301152, 1e-11);
    EXPECT_NEAR(line->slope_deviation, 0.429796848199937e-3, 1e-13);
    EXPECT_NEAR(line->scatter, 0.884796396144373, 1e-11);
    EXPECT_NEAR(line->r_squared, 0.999993745883712, 1e-13);
    // Student's t for 34 degrees of freedom at 97.5 %: 2.032 (NIST/SEMATECH e-Handbook, 1.3.6.7.2).
    EXPECT_NEAR((line->slope_interval->high - line->slope) / line->slope_deviation, 2.032, 5e-4);
}

TEST(Line, NeedsTwoPlacesAndThreePointsForAnInterval) {
    EXPECT_FALSE(line_through(std::vector<std::pair<double, double>>{{1, 1}, {1, 2}}));
    const auto two = line_through(std::vector<std::pair<double, double>>{{0, 1}, {2, 2}});
    ASSERT_TRUE(two);
    EXPECT_DOUBLE_EQ(two->slope, 0.5);
    EXPECT_FALSE(two->slope_interval);
}

/// Each step of the strip lets that much through.
template <class Light> std::vector<Seen> held(const std::vector<Item>& items, Light light) {
    std::vector<Seen> out;
    for (std::size_t i = 0; i < items.size(); ++i)
        if (items[i].kind == Kind::step) {
            Seen seen{i, i};
            seen.light = light(items[i].size_mm);
            out.push_back(seen);
        }
    return out;
}

TEST(Wedge, GivesBackLambertAndBeersLawWithItsSurfaces) {
    const std::vector<Item> items = items_of(standard());
    // Two surfaces that reflect 4 % each, and 1.3 a mm.
    const auto fit = wedge_fit(items, held(items, [](double mm) { return 0.96 * 0.96 * std::exp(-1.3 * mm); }));
    ASSERT_TRUE(fit);
    EXPECT_NEAR(fit->attenuation_per_mm, 1.3, 1e-9);
    EXPECT_NEAR(fit->surface, 0.96 * 0.96, 1e-9);
    EXPECT_NEAR(fit->r_squared, 1, 1e-12);
    EXPECT_FALSE(fit->evened);
    // As a profile's wedge it lets through what the shop measured.
    process::Printing figures = *standard().printing;
    figures.wedge = fit->steps;
    EXPECT_NEAR(print::transmission(figures, 1.2), 0.96 * 0.96 * std::exp(-1.3 * 1.2), 1e-9);
}

TEST(Wedge, GoesByTheThicknessThatWasMeasured) {
    const std::vector<Item> items = items_of(standard());
    auto seen = held(items, [](double mm) { return std::exp(-0.9 * (mm + 0.05)); });
    for (Seen& row : seen)
        row.measured_mm = {items[row.item].size_mm + 0.04, items[row.item].size_mm + 0.06};
    const auto fit = wedge_fit(items, seen);
    ASSERT_TRUE(fit);
    EXPECT_NEAR(fit->surface, 1, 1e-9);
    EXPECT_NEAR(fit->steps.front().thickness_mm, 0.45, 1e-9);
}

TEST(Wedge, AThickerStepIsNeverBrighter) {
    const std::vector<Item> items = items_of(standard());
    auto seen = held(items, [](double mm) { return std::exp(-mm); });
    std::swap(seen[1].light, seen[2].light);
    const auto fit = wedge_fit(items, seen);
    ASSERT_TRUE(fit);
    EXPECT_TRUE(fit->evened);
    EXPECT_DOUBLE_EQ(fit->steps[1].log_transmission, fit->steps[2].log_transmission);
    EXPECT_NEAR(fit->steps[1].log_transmission, -0.7 / std::log(10.0), 1e-9); // the mean of 0.6 and 0.8 mm
}

TEST(Wedge, OfOneThicknessOrOneThatBrightensThereIsNone) {
    const std::vector<Item> items = items_of(standard());
    auto seen = held(items, [](double mm) { return std::exp(-mm); });
    EXPECT_FALSE(wedge_fit(items, std::span(seen).first(1)));
    EXPECT_FALSE(wedge_fit(items, held(items, [](double mm) { return std::min(1.0, 0.1 * mm); })));
}

} // namespace
} // namespace touchmark::fitting
