// SPDX-License-Identifier: MIT
#pragma once

#include "core/geometry/contour.h"

#include <array>
#include <span>
#include <vector>

namespace touchmark::imprint {

/// The area that the polygons bound (even-odd) as trapezoids with level top and bottom: lower left, lower right, upper
/// right, upper left. They do not share corners, which is good enough for drawing a flat area, and cannot fail on any
/// input.
[[nodiscard]] std::vector<std::array<Vec2, 4>> trapezoids(std::span<const geometry::Polygon> polygons);

} // namespace touchmark::imprint
