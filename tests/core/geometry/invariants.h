// SPDX-License-Identifier: MIT
#pragma once

#include "core/geometry/outline.h"

#include <gtest/gtest.h>

#include <numbers>

namespace touchmark::test {

/// Checks an outline against its contract by brute force on fine polygons, with none of the library's own searching:
/// closed contours, outer counter-clockwise and holes clockwise, no contour crossing or touching itself or another,
/// holes inside their region and outside each other.
[[nodiscard]] testing::AssertionResult is_valid(const geometry::Outline& outline, double flatness = 1e-5);

/// Area under a fill rule, by the polygon clipper alone on polygons within `flatness` of the curves.
[[nodiscard]] double clipper_area(const std::vector<geometry::Contour>& contours, geometry::FillRule rule,
                                  double flatness = 1e-4);

[[nodiscard]] geometry::Contour rectangle(Vec2 low, Vec2 high);
/// Four cubics; radius exact to 2.7e-4 of itself. Clockwise when `radius` is negative.
[[nodiscard]] geometry::Contour circle(Vec2 centre, double radius);
/// A regular polygon of many sides.
[[nodiscard]] geometry::Contour polygon_circle(Vec2 centre, double radius, int sides);

} // namespace touchmark::test
