// SPDX-License-Identifier: MIT
#include "core/geometry/bridges.h"

#include "tests/core/geometry/invariants.h"

#include <gtest/gtest.h>

#include <cmath>

namespace touchmark::geometry {
namespace {

Outline ring(double outer, double inner) {
    return {{{test::circle({0, 0}, outer), {test::circle({0, 0}, -inner)}}}};
}

/// Under the circle of that radius, over the x axis, between -half and half: the integral of its chord.
double under_circle(double radius, double half) {
    return half * std::sqrt(radius * radius - half * half) + radius * radius * std::asin(half / radius);
}

TEST(Bridges, ARingIsHeldAboveAndBelow) {
    const double width = 0.8;
    const Bridged held = bridged(ring(5, 3), width);
    ASSERT_EQ(held.bridges.size(), 2u);
    EXPECT_EQ(held.loose, 0u);
    EXPECT_TRUE(test::is_valid(held.outline));
    ASSERT_EQ(held.outline.regions.size(), 2u) << "a left half and a right one";
    for (const Region& half : held.outline.regions)
        EXPECT_TRUE(half.holes.empty());
    const double strips = 2 * (under_circle(5, width / 2) - under_circle(3, width / 2));
    EXPECT_NEAR(area(held.outline), area(ring(5, 3)) - strips, 0.01) << "four cubics are a circle to 2.7e-4";
    for (const Bridge& bridge : held.bridges) {
        EXPECT_NEAR(bridge.at.x, 0, 0.2);
        EXPECT_NEAR(std::abs(bridge.at.y), 4, 0.1);
        EXPECT_NEAR(bridge.length, 2, 0.1);
    }
}

TEST(Bridges, WhatTheyDoNotMeetStaysAsItIs) {
    Outline outline = ring(5, 3);
    outline.regions.push_back({test::circle({20, 0}, 2), {}});
    const Bridged held = bridged(outline, 0.8);
    EXPECT_EQ(held.outline.regions.back(), outline.regions.back());
    EXPECT_EQ(held.from, (std::vector<std::size_t>{0, 0, 1}));
    int curves = 0;
    for (const Segment& segment : held.outline.regions.front().outer.segments)
        curves += segment.degree == 3;
    EXPECT_GE(curves, 4) << "a half of each circle is two quarters, still curves";
}

TEST(Bridges, OneHoldsASmallCounter) {
    const Bridged held = bridged(ring(3, 0.9), 0.8);
    EXPECT_EQ(held.bridges.size(), 1u);
    EXPECT_EQ(held.loose, 0u);
    ASSERT_EQ(held.outline.regions.size(), 1u);
    const Bridged tiny = bridged(ring(3, 0.2), 0.8);
    EXPECT_EQ(tiny.bridges.size(), 1u) << "narrower than the strip";
    EXPECT_EQ(tiny.loose, 0u);
    EXPECT_TRUE(test::is_valid(tiny.outline));
}

TEST(Bridges, LieWhereUprightOnesWouldBeLong) {
    // A tall block with a slot at its right edge: to the right it is a millimetre, up and down nine.
    const Outline block{{{test::rectangle({0, 0}, {10, 20}), {reversed(test::rectangle({6, 9}, {9, 11}))}}}};
    const Bridged held = bridged(block, 1);
    ASSERT_FALSE(held.bridges.empty());
    EXPECT_EQ(held.loose, 0u);
    EXPECT_NEAR(held.bridges.front().at.x, 9.5, 0.3);
}

TEST(Bridges, CountersBehindEachOtherHangTogether) {
    Region ladder{test::rectangle({0, 0}, {6, 30}), {}};
    for (int i = 0; i < 5; ++i)
        ladder.holes.push_back(reversed(test::rectangle({2, 2.0 + 5.5 * i}, {4, 5.5 + 5.5 * i})));
    const Bridged held = bridged({{ladder}}, 0.8);
    EXPECT_EQ(held.loose, 0u);
    EXPECT_TRUE(test::is_valid(held.outline));
    EXPECT_LE(held.bridges.size(), 10u);
}

TEST(Bridges, LeaveNoSliverBesideThem) {
    // A strip of 0.9 across a bar of 1: what would remain on one side is no use to anybody.
    const Outline frame{{{test::rectangle({0, 0}, {9, 9}), {reversed(test::rectangle({4, 4}, {5, 8}))}}}};
    const Bridged held = bridged(frame, 0.9);
    EXPECT_EQ(held.loose, 0u);
    for (const Region& region : held.outline.regions)
        EXPECT_GT(area(Outline{{region}}), 0.5);
}

} // namespace
} // namespace touchmark::geometry
