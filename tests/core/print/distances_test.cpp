// SPDX-License-Identifier: MIT
#include "core/print/coverage.h"
#include "core/print/distances.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <random>

namespace touchmark::print {
namespace {

TEST(Distances, AreThoseOfLookingAtEveryCell) {
    std::mt19937 random(3);
    const Grid grid{31, 23, {-1, 2}, 0.05, 0.08};
    for (const double density : {0.5, 0.9, 0.99, 1.0}) {
        std::bernoulli_distribution in(density);
        std::vector<char> marked(grid.cells());
        for (char& cell : marked)
            cell = in(random);
        const Field found = distances(grid, marked);
        for (int y = 0; y < grid.rows; ++y)
            for (int x = 0; x < grid.columns; ++x) {
                double least = 1e300;
                for (int j = -1; j <= grid.rows; ++j)
                    for (int i = -1; i <= grid.columns; ++i) {
                        const bool beyond = i < 0 || j < 0 || i == grid.columns || j == grid.rows;
                        if (!beyond && marked[grid.index(i, j)]) continue;
                        least = std::min(least, std::hypot((i - x) * grid.step_x, (j - y) * grid.step_y));
                    }
                ASSERT_NEAR(found.at(x, y), least, 1e-5) << x << ' ' << y << " of " << density;
            }
    }
}

TEST(Coverage, OfADiscIsItsArea) {
    geometry::Polygon disc;
    constexpr double radius = 1.3;
    for (int i = 0; i < 720; ++i)
        disc.push_back({radius * std::cos(i * std::numbers::pi / 360), radius * std::sin(i * std::numbers::pi / 360)});
    const Field field = coverage(std::span(&disc, 1), {80, 80, {-2, -2}, 0.05, 0.05});
    double area = 0;
    for (const float share : field.values)
        area += share * 0.05 * 0.05;
    EXPECT_NEAR(area, std::numbers::pi * radius * radius, 2e-3);
    EXPECT_FLOAT_EQ(field.at(40, 40), 1);
    EXPECT_FLOAT_EQ(field.at(0, 0), 0);
}

TEST(Blur, KeepsTheSumAndSpreadsAnEdgeAsTheErrorFunction) {
    Grid grid{200, 3, {-5, 0}, 0.05, 0.05};
    Field step(grid);
    for (int y = 0; y < 3; ++y)
        for (int x = 100; x < 200; ++x)
            step.at(x, y) = 1;
    const Field soft = blurred(step, 0.2, 0.2);
    for (int x = 60; x < 140; ++x)
        EXPECT_NEAR(soft.at(x, 1), (1 + std::erf(grid.middle(x, 1).x / (0.2 * std::numbers::sqrt2))) / 2, 3e-3);
}

} // namespace
} // namespace touchmark::print
