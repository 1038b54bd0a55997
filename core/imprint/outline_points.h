// SPDX-License-Identifier: MIT
#pragma once

// Places of a footprint from which one looks for what lies near it.

#include "core/geometry/outline.h"

namespace touchmark::imprint {

/// The corners, and points between them no farther apart than `spacing` (mm).
[[nodiscard]] std::vector<Vec2> along_outline(std::span<const geometry::Polygon> polygons, double spacing);
/// A square grid over the inside (even-odd), `spacing` wide, or so much wider that there are some 4,000 points at most.
[[nodiscard]] std::vector<Vec2> within_outline(std::span<const geometry::Polygon> polygons, double spacing);
/// Both, on polygons within 0.005 mm of the curves.
[[nodiscard]] std::vector<Vec2> points_of(const geometry::Outline& outline, double spacing);

} // namespace touchmark::imprint
