// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/vector.h"

#include <array>
#include <span>
#include <vector>

namespace touchmark::geometry {

/// A Bézier segment of degree 1 (line), 2 or 3; points[0…degree] are used.
struct Segment {
    int degree = 1;
    std::array<Vec2, 4> points{};

    [[nodiscard]] static Segment line(Vec2 a, Vec2 b) { return {1, {a, b}}; }
    [[nodiscard]] static Segment quadratic(Vec2 a, Vec2 b, Vec2 c) { return {2, {a, b, c}}; }
    [[nodiscard]] static Segment cubic(Vec2 a, Vec2 b, Vec2 c, Vec2 d) { return {3, {a, b, c, d}}; }
    [[nodiscard]] Vec2 start() const { return points[0]; }
    [[nodiscard]] Vec2 end() const { return points[static_cast<std::size_t>(degree)]; }
    friend bool operator==(const Segment&, const Segment&) = default;
};

/// Closed: each segment starts where the one before ends, the first where the last ends, exactly.
struct Contour {
    std::vector<Segment> segments;

    friend bool operator==(const Contour&, const Contour&) = default;
};

/// A closed polygon; the last vertex joins the first.
using Polygon = std::vector<Vec2>;

/// A plane map p ↦ M p + t.
struct Affine {
    double xx = 1, xy = 0, yx = 0, yy = 1;
    Vec2 shift;

    [[nodiscard]] Vec2 operator()(Vec2 p) const {
        return {xx * p.x + xy * p.y + shift.x, yx * p.x + yy * p.y + shift.y};
    }
    [[nodiscard]] static Affine scale(double factor) { return {factor, 0, 0, factor, {}}; }
    [[nodiscard]] static Affine translation(Vec2 by) { return {1, 0, 0, 1, by}; }
    /// Counter-clockwise about the origin, in radians.
    [[nodiscard]] static Affine rotation(double angle);
    /// First `b`, then `a`.
    friend Affine operator*(const Affine& a, const Affine& b);
};

[[nodiscard]] Vec2 point_at(const Segment& segment, double t);
/// d/dt, not normalised.
[[nodiscard]] Vec2 derivative_at(const Segment& segment, double t);
/// The two parts on either side of t in (0, 1).
[[nodiscard]] std::array<Segment, 2> split(const Segment& segment, double t);
[[nodiscard]] Segment reversed(const Segment& segment);
[[nodiscard]] Contour reversed(const Contour& contour);
[[nodiscard]] Contour transformed(const Contour& contour, const Affine& map);
[[nodiscard]] Contour contour_of(std::span<const Vec2> polygon);

/// Signed area in mm², counter-clockwise positive; exact for the curves (Green's theorem), not for their polygon.
[[nodiscard]] double area(const Contour& contour);
/// Exact: extremes of the curves, not of their control points.
[[nodiscard]] Box2 bounds(const Contour& contour);
/// A polygon whose distance from the curve is at most `tolerance` (mm); lines are not subdivided.
[[nodiscard]] Polygon flattened(const Contour& contour, double tolerance);
[[nodiscard]] double area(std::span<const Vec2> polygon);
/// Winding number of the polygon around p.
[[nodiscard]] int winding(std::span<const Vec2> polygon, Vec2 p);
[[nodiscard]] double distance_to_boundary(std::span<const Vec2> polygon, Vec2 p);

} // namespace touchmark::geometry
