// SPDX-License-Identifier: MIT
#pragma once

#include "core/geometry/outline.h"

#include <cmath>
#include <numbers>

namespace touchmark::print {

inline geometry::Contour rectangle(Vec2 low, Vec2 high) {
    const geometry::Polygon corners{low, {high.x, low.y}, high, {low.x, high.y}};
    return geometry::contour_of(corners);
}
inline geometry::Region bar(Vec2 low, Vec2 high) {
    return {rectangle(low, high), {}};
}
/// Upright, `width` wide, about the origin.
inline geometry::Outline upright_bar(double width, double height = 6) {
    return {{bar({-width / 2, -height / 2}, {width / 2, height / 2})}};
}
inline geometry::Polygon circle(double radius) {
    geometry::Polygon points;
    for (int i = 0; i < 720; ++i)
        points.push_back(
            {radius * std::cos(i * std::numbers::pi / 360), radius * std::sin(i * std::numbers::pi / 360)});
    return points;
}

} // namespace touchmark::print
