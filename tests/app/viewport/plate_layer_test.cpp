// SPDX-License-Identifier: MIT
#include "app/viewport/plate_layer.h"

#include "tests/app/viewport/shapes.h"

#include <gtest/gtest.h>

namespace touchmark::viewport {
namespace {

constexpr int nodes = 101;

float at(const std::vector<float>& shade, int x, int y) {
    return shade[static_cast<std::size_t>(y * nodes + x)];
}

TEST(ContactShade, IsDarkUnderTheFootingAndGoneBesideIt) {
    const auto shade = contact_shade(test::box_meshes({-10, -10, 0}, {10, 10, 30}), {}, {50, 50}, nodes);
    EXPECT_NEAR(at(shade, 50, 50), 1, 1e-3);
    EXPECT_NEAR(at(shade, 50, 90), 0, 1e-3);
    EXPECT_GT(at(shade, 60, 50), 0.2); // on the border itself
    EXPECT_LT(at(shade, 60, 50), 0.9);
}

TEST(ContactShade, WearsOffWithHeight) {
    const auto low = contact_shade(test::box_meshes({-10, -10, 1}, {10, 10, 30}), {}, {50, 50}, nodes);
    const auto high = contact_shade(test::box_meshes({-10, -10, 12}, {10, 10, 30}), {}, {50, 50}, nodes);
    EXPECT_GT(at(low, 50, 50), at(high, 50, 50) + 0.2);
}

} // namespace
} // namespace touchmark::viewport
