// SPDX-License-Identifier: MIT
#include "core/surface/rectangle.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>

namespace touchmark::test {
namespace {

double size_of(const Box2& box) {
    return box.width() * box.height();
}

TEST(LargestRectangle, IsHalfOfATriangle) {
    // In a right triangle with its legs along the axes the largest one has half of each leg.
    const std::vector<geometry::Polygon> triangle{{{0, 0}, {30, 0}, {0, 20}}};
    const Box2 box = surface::largest_rectangle(triangle);
    EXPECT_NEAR(box.width(), 15, 0.1);
    EXPECT_NEAR(size_of(box), 150, 1e-3);
    EXPECT_LE(box.high.x / 30 + box.high.y / 20, 1 + 1e-7);
}

TEST(LargestRectangle, FindsTheBestUnderAnySkyline) {
    // A row of columns of random heights: the best by trying every pair of ends.
    std::mt19937 random(3);
    for (int trial = 0; trial < 60; ++trial) {
        std::vector<double> xs{0}, heights;
        for (int i = 0; i < 12; ++i) {
            xs.push_back(xs.back() + std::uniform_real_distribution(0.5, 9.0)(random));
            heights.push_back(std::uniform_real_distribution(0.5, 30.0)(random));
        }
        geometry::Polygon skyline{{xs.back(), 0}};
        for (std::size_t i = heights.size(); i-- > 0;) {
            skyline.push_back({xs[i + 1], heights[i]});
            skyline.push_back({xs[i], heights[i]});
        }
        skyline.push_back({0, 0});
        double best = 0;
        for (std::size_t i = 0; i < heights.size(); ++i)
            for (std::size_t j = i; j < heights.size(); ++j)
                best =
                    std::max(best, (xs[j + 1] - xs[i]) * *std::min_element(heights.begin() + static_cast<long>(i),
                                                                           heights.begin() + static_cast<long>(j) + 1));
        const std::vector<geometry::Polygon> polygons{skyline};
        EXPECT_NEAR(size_of(surface::largest_rectangle(polygons)), best, 1e-6 * best) << trial;
    }
}

TEST(LargestRectangle, StaysInsideAnyStar) {
    std::mt19937 random(5);
    for (int trial = 0; trial < 40; ++trial) {
        geometry::Polygon star;
        for (int i = 0; i < 40; ++i) {
            const double angle = i * 0.157079632679, reach = std::uniform_real_distribution(4.0, 20.0)(random);
            star.push_back({reach * std::cos(angle), reach * std::sin(angle)});
        }
        const std::vector<geometry::Polygon> polygons{star};
        const Box2 box = surface::largest_rectangle(polygons);
        ASSERT_GT(size_of(box), 20);
        const double hair = 1e-6;
        for (const Vec2 corner : {box.low, box.high, Vec2{box.low.x, box.high.y}, Vec2{box.high.x, box.low.y}}) {
            const Vec2 in = corner + (box.centre() - corner) * (hair / length(box.centre() - corner));
            EXPECT_NE(geometry::winding(star, in), 0) << trial;
        }
        for (const Vec2 p : star) // no corner of the star pokes in
            EXPECT_FALSE(p.x > box.low.x + hair && p.x < box.high.x - hair && p.y > box.low.y + hair &&
                         p.y < box.high.y - hair)
                << trial;
    }
}

TEST(LargestRectangle, IsEmptyAtAPointInsideWhereNothingFits) {
    const std::vector<geometry::Polygon> sliver{{{0, 0}, {100, 70}, {100, 70.001}}};
    const Box2 box = surface::largest_rectangle(sliver);
    EXPECT_LT(size_of(box), 0.01);
    EXPECT_TRUE(std::isfinite(box.centre().x));
}

} // namespace
} // namespace touchmark::test
