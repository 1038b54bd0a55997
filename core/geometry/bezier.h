// SPDX-License-Identifier: MIT
#pragma once

#include "core/geometry/contour.h"

#include <optional>
#include <utility>

/// What the geometry module knows about single Bézier segments; not for use outside it.
namespace touchmark::geometry {

[[nodiscard]] Box2 bounds(const Segment& segment);
/// Of the control points: a box that holds the curve, cheaper than its exact bounds.
[[nodiscard]] Box2 hull_box(const Segment& segment);
/// How far the curve can stray from its chord, mm: an upper bound from the second derivative.
[[nodiscard]] double chord_error(const Segment& segment);
/// Length of the control polygon: an upper bound of the curve's length.
[[nodiscard]] double control_length(const Segment& segment);
/// Equal steps of t that keep every chord within `tolerance` of the curve. At least 1, at most 2^16.
[[nodiscard]] int pieces_within(const Segment& segment, double tolerance);
/// The curve between two parameters; reversed when from > to.
[[nodiscard]] Segment part_of(const Segment& segment, double from, double to);
/// Moves the ends exactly onto a and b, their neighbouring control points along with them.
[[nodiscard]] Segment with_ends(Segment segment, Vec2 a, Vec2 b);
/// Parameters 0 ≤ s < t ≤ 1 where a cubic passes through one point twice.
[[nodiscard]] std::optional<std::pair<double, double>> loop_of(const Segment& segment);
/// For a curve whose control points all lie on one line: the lines that it really runs along. Else the segment itself.
[[nodiscard]] std::vector<Segment> unfolded(const Segment& segment);
/// Winding number of the contour around p, exact for the curves.
[[nodiscard]] int winding(const Contour& contour, Vec2 p);

[[nodiscard]] Vec2 nearest_on(Vec2 a, Vec2 b, Vec2 p);

/// The closest points of two line segments.
struct Approach {
    double distance = 0;
    Vec2 on_a, on_b;
    bool crosses = false; ///< they cross in the interior of both
};
[[nodiscard]] Approach approach(Vec2 a0, Vec2 a1, Vec2 b0, Vec2 b1);

} // namespace touchmark::geometry
