// SPDX-License-Identifier: MIT
#include "core/plate/plate.h"
#include "tests/core/plate/profile.h"

#include <gtest/gtest.h>

#include <cmath>

namespace touchmark::plate {
namespace {

Zone zone(double degrees, double height = 5) {
    static const process::Process process = test::common_profile();
    return zone_of(std::cos(Degrees(degrees).radians()), height, process);
}

TEST(Zone, GoesByTheAngleOfTheNormalToUp) {
    EXPECT_EQ(zone(0), Zone::top);
    EXPECT_EQ(zone(19.9), Zone::top);
    EXPECT_EQ(zone(20.1), Zone::slope);
    EXPECT_EQ(zone(45), Zone::slope);
    EXPECT_EQ(zone(69.9), Zone::slope);
    EXPECT_EQ(zone(70.1), Zone::side_wall);
    EXPECT_EQ(zone(90), Zone::side_wall);
    EXPECT_EQ(zone(180), Zone::overhang);
}

// Common practice, no source: what leans out by up to 45° prints without support. A chamfer drawn at 45° sits exactly
// on the limit, and rounding must not decide.
TEST(Zone, AFaceLeaningOutByFortyFiveDegreesIsStillAWall) {
    EXPECT_EQ(zone(134.9), Zone::side_wall);
    EXPECT_EQ(zone(135), Zone::side_wall);
    const process::Process process = test::common_profile();
    EXPECT_EQ(zone_of(-std::sqrt(0.5) - 1e-12, 5, process), Zone::side_wall);
    EXPECT_EQ(zone_of(-std::sqrt(0.5) + 1e-12, 5, process), Zone::side_wall);
    EXPECT_EQ(zone(135.1), Zone::overhang);
}

TEST(Zone, TheBottomTouchesThePlate) {
    const process::Process process = test::common_profile();
    const double half_layer = process.first_layer_mm.value / 2;
    EXPECT_EQ(zone(180, 0), Zone::bottom);
    EXPECT_EQ(zone(180, half_layer), Zone::bottom);
    EXPECT_EQ(zone(180, half_layer + 1e-6), Zone::overhang);
    EXPECT_EQ(zone(176, 0), Zone::bottom);
    EXPECT_EQ(zone(174, 0), Zone::overhang);
    // The foot of a wall touches the plate and is a wall all the same.
    EXPECT_EQ(zone(90, 0), Zone::side_wall);
}

TEST(Zone, TakesRoundingBeyondTheUnitInterval) {
    const process::Process process = test::common_profile();
    EXPECT_EQ(zone_of(1 + 1e-15, 5, process), Zone::top);
    EXPECT_EQ(zone_of(-1 - 1e-15, 0, process), Zone::bottom);
}

// Area within 45° of straight down on a cylinder lying on its side: (π/2)·r·h, a quarter of the wall (computed).
TEST(Zone, AQuarterOfALyingCylinderIsOverhang) {
    const process::Process process = test::common_profile();
    Placement placement = placement_of({{0, 0, -1}, Degrees(0)}, {});
    placement.shift.z = 1000; // high above the plate
    const int steps = 36'000;
    int overhanging = 0;
    for (int i = 0; i < steps; ++i) {
        const double angle = 2 * std::numbers::pi * (i + 0.5) / steps;
        const Vec3 normal{0, std::cos(angle), std::sin(angle)};
        overhanging += zone_at(placement, normal * 10, normal, process) == Zone::overhang;
    }
    EXPECT_NEAR(static_cast<double>(overhanging) / steps, 0.25, 1e-3);
}

TEST(Zone, FollowsThePose) {
    const process::Process process = test::common_profile();
    auto mesh = std::make_shared<part::FaceMesh>();
    mesh->points = {{0, 0, 0}, {10, 20, 30}};
    const Placement upright = placement_of({{0, 0, -1}, Degrees(0)}, {mesh});
    EXPECT_EQ(zone_at(upright, {5, 5, 0}, {0, 0, -1}, process), Zone::bottom);
    EXPECT_EQ(zone_at(upright, {5, 5, 30}, {0, 0, 1}, process), Zone::top);
    EXPECT_EQ(zone_at(upright, {0, 5, 5}, {-1, 0, 0}, process), Zone::side_wall);
    const Placement on_its_side = placement_of({{-1, 0, 0}, Degrees(12)}, {mesh});
    EXPECT_EQ(zone_at(on_its_side, {0, 5, 5}, {-1, 0, 0}, process), Zone::bottom);
    EXPECT_EQ(zone_at(on_its_side, {10, 5, 5}, {1, 0, 0}, process), Zone::top);
    EXPECT_EQ(zone_at(on_its_side, {5, 5, 30}, {0, 0, 1}, process), Zone::side_wall);
}

} // namespace
} // namespace touchmark::plate
