// SPDX-License-Identifier: MIT
#pragma once

// A mark's segments carried onto a cylinder or a cone.

#include "core/geometry/contour.h"
#include "core/surface/unrolling.h"

#include <array>
#include <vector>

namespace touchmark::imprint {

/// How far a fitted curve may be off the surface or off the outline, mm.
inline constexpr double fitted_within = 1e-6;

/// A Bézier curve in the parameters of the surface.
struct ParameterCurve {
    int degree = 1; ///< 1, 2, 3 or 5
    std::array<Vec2, 6> poles;

    [[nodiscard]] Vec2 start() const { return poles[0]; }
    [[nodiscard]] Vec2 end() const { return poles[static_cast<std::size_t>(degree)]; }
    [[nodiscard]] Vec2 at(double t) const;
    /// Value, first and second derivative.
    [[nodiscard]] surface::Unrolling::Jet jet(double t) const;
};

/// Poles of the quintic that has the place and the first two derivatives of the curve at both its ends, at a height
/// over the surface, and how far it is off in between, mm.
struct SpaceCurve {
    std::array<Vec3, 6> poles;
    double off = 0;
};
[[nodiscard]] SpaceCurve space_curve(const surface::Unrolling& surface, const ParameterCurve& curve, double height);

/// A piece of a segment with its curves in space at two heights.
struct LaidCurve {
    ParameterCurve flat;
    SpaceCurve low, high;
};
/// The segment in as many pieces as it takes for space_curve() to keep to `fitted_within` at both heights. On a
/// cylinder exact, on a cone within the same.
[[nodiscard]] std::vector<LaidCurve> laid_curves(const surface::Unrolling& surface, const geometry::Segment& segment,
                                                 std::array<double, 2> heights);

/// The contour, counter-clockwise around a region, with its segments split where they cross the generator at the angle
/// u (or whole turns from it); corners within 2e-6 mm of that line are put on it. False where it touches the line in
/// another way than with a corner that cuts into the region, or with a stretch along it.
[[nodiscard]] bool split_at_angle(const surface::Unrolling& surface, double u, geometry::Contour& contour);

} // namespace touchmark::imprint
