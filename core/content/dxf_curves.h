// SPDX-License-Identifier: MIT
#pragma once

#include "core/geometry/contour.h"

namespace touchmark::content::dxf {

/// A spline as the file gives it: a (rational) B-spline, or points that it passes through.
struct Spline {
    int degree = 3;
    bool closed = false;
    std::vector<double> knots;
    std::vector<Vec2> points;
    std::vector<double> weights; ///< one a point
    std::vector<Vec2> through;
};

/// Cubics within `tolerance` of the spline; exact for what is no higher than cubic and not rational. Empty when the
/// numbers of knots and points do not fit each other. Points to pass through are joined by a natural cubic spline over
/// their chord lengths.
[[nodiscard]] std::vector<geometry::Segment> segments_of(const Spline& spline, double tolerance);

/// A polyline's side: bulge is the tangent of a quarter of the arc's angle, positive to the left.
[[nodiscard]] std::vector<geometry::Segment> side(Vec2 from, Vec2 to, double bulge);

} // namespace touchmark::content::dxf
