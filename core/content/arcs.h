// SPDX-License-Identifier: MIT
#pragma once

#include "core/geometry/contour.h"

namespace touchmark::content {

/// Part of a circle of radius 1 about the origin, angles in radians, negative sweep clockwise: cubics of 45° at most,
/// whose distance from the circle stays below 5e-6 of the radius. `map` carries it to where it belongs.
[[nodiscard]] std::vector<geometry::Segment> arc(double from, double sweep, const geometry::Affine& map);

/// An elliptical arc by its ends, as path data gives it (SVG 2, B.2.4 and B.2.5): radii too small are grown, a radius
/// of 0 is a line.
struct EndpointArc {
    Vec2 from, to;
    double radius_x = 0, radius_y = 0;
    double turn = 0; ///< of the x axis, radians
    bool large = false, positive_sweep = false;
};
[[nodiscard]] std::vector<geometry::Segment> arc(const EndpointArc& ends);

} // namespace touchmark::content
