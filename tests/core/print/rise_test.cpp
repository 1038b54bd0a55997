// SPDX-License-Identifier: MIT
// Layers on a cylinder that lies on its side, against the circle's own equation: a place s along it, from where it
// stands upright, lies R sin(s / R) high.
#include "core/print/layers.h"

#include "tests/core/print/bench_process.h"
#include "tests/core/print/shapes.h"

#include <gtest/gtest.h>

#include <cmath>

namespace touchmark::print {
namespace {

constexpr double radius = 10;

Rise round_rise(double half, double step = 0.05) {
    Rise rise{-half, step, {}};
    for (int i = 0, count = static_cast<int>(std::lround(2 * half / step)); i <= count; ++i)
        rise.heights.push_back(radius * std::sin((-half + i * step) / radius));
    return rise;
}

TEST(Rise, HeightsAndPlacesAreEachOthersInverse) {
    const Rise rise = round_rise(8);
    for (const double place : {-9.0, -8.0, -3.3, 0.0, 0.01, 5.7, 8.0, 9.5}) // beyond the ends as well
        EXPECT_NEAR(rise.place(rise.height(place)), place, 1e-9);
    EXPECT_NEAR(rise.height(5), radius * std::sin(0.5), 1e-4);
    EXPECT_NEAR(rise.place(5), radius * std::asin(0.5), 1e-3);
}

TEST(Rise, LayersOnALyingCylinderWidenTowardsItsTop) {
    const process::Process process = sharp_profile();
    const double layer = process.layer_height_mm.value;
    Standing standing{.depth = Mm(0.6)};
    standing.rise = round_rise(9);
    const auto out = layers_of(upright_bar(2, 12), standing, process, {}, Progress());
    ASSERT_TRUE(out);
    ASSERT_GT(out->layers.size(), 40U);
    for (std::size_t i = 0; i < out->layers.size(); ++i) {
        const Layer& one = out->layers[i];
        const double low = radius * std::sin(one.from_mm / radius), high = radius * std::sin(one.to_mm / radius);
        EXPECT_NEAR(high - low, layer, 1e-3) << i;
        EXPECT_DOUBLE_EQ(one.from_mm, out->layers[i > 0 ? i - 1 : 0].*(i > 0 ? &Layer::to_mm : &Layer::from_mm)) << i;
    }
    // 6 mm up the circle a layer is 1 / cos 0.6 as wide as where it stands upright.
    const Layer& top = out->layers.back();
    const double middle = (top.from_mm + top.to_mm) / 2;
    EXPECT_NEAR(top.to_mm - top.from_mm, layer / std::cos(middle / radius), 2e-3);
}

TEST(Rise, AStraightOneIsAFlatFace) {
    const process::Process process = sharp_profile();
    Standing flat{.zone = Zone::slope, .incline = Degrees(40), .first_layer_at = Mm(0.07)}, straight = flat;
    straight.rise = {-5, 1, {}};
    for (int i = -5; i <= 5; ++i)
        straight.rise.heights.push_back(i * std::sin(flat.incline.radians()));
    const auto one = layers_of(upright_bar(2, 6), flat, process, {}, Progress()),
               other = layers_of(upright_bar(2, 6), straight, process, {}, Progress());
    ASSERT_TRUE(one && other);
    ASSERT_EQ(one->layers.size(), other->layers.size());
    for (std::size_t i = 0; i < one->layers.size(); ++i) {
        EXPECT_NEAR(one->layers[i].from_mm, other->layers[i].from_mm, 1e-9);
        EXPECT_NEAR(one->layers[i].extra.path_mm, other->layers[i].extra.path_mm, 1e-6);
    }
}

TEST(Rise, FlatStrokesThatHoldOnTheWallAreLostTowardsTheTop) {
    // Strokes along the layers, 0.5 mm wide: two layers of 0.2 mm where the face is upright, not one whole layer where
    // it leans back by 66 degrees (common practice, no source: the flatter the face, the coarser).
    const process::Process process = sharp_profile();
    const auto retained = [&](double place) {
        Standing standing;
        standing.rise = round_rise(13);
        const auto out = simulate({{bar({-3, place - 0.25}, {3, place + 0.25})}}, standing, process, Progress());
        EXPECT_TRUE(out);
        double covered = 0, kept = 0;
        for (std::size_t i = 0; i < out->relief.values.size(); ++i) {
            covered += out->ideal.values[i];
            kept += out->ideal.values[i] * std::min(1.0, out->retained(out->relief.values[i]));
        }
        return kept / covered;
    };
    double low = 1, high = 1;
    for (const double shift : {0.0, 0.07, 0.13}) { // wherever layers happen to begin
        low = std::min(low, retained(shift));
        high = std::min(high, retained(11.5 + shift));
    }
    EXPECT_GT(low, high + 0.1);
}

} // namespace
} // namespace touchmark::print
