// SPDX-License-Identifier: MIT
#pragma once

// A mark's segments carried onto a surface that cannot be rolled out.

#include "core/imprint/site.h"

#include <array>
#include <vector>

namespace touchmark::imprint {

/// A piece of a contour: the poles of quintic Béziers in the surface's parameters and in the product, at two heights
/// over the surface, and how far these are off it at most, mm.
struct CarriedCurve {
    std::array<Vec2, 6> uv;
    std::array<Vec3, 6> rim, foot;
    double rim_off = 0, foot_off = 0;
};

/// Fits by interpolation at six Chebyshev points, in as many pieces as it takes to be within fitted_within of the
/// surface, and of the outline along it; pieces end where the surface is less than three times smooth.
class CurveCarrier {
public:
    CurveCarrier(const Site& site, double rim_height, double foot_height);
    [[nodiscard]] std::vector<CarriedCurve> carried(const geometry::Contour& contour) const;

private:
    [[nodiscard]] Vec2 parameters(Vec2 own) const { return site_.chart->parameters(site_.in_mark(own)); }
    void split_at_breaks(const geometry::Segment& segment, std::vector<geometry::Segment>& out) const;
    void carry(const geometry::Segment& segment, int depth, std::vector<CarriedCurve>& out) const;
    [[nodiscard]] bool fit(const geometry::Segment& segment, CarriedCurve& curve) const;

    const Site& site_;
    surface::SurfaceEvaluator surface_; ///< in product coordinates
    double rim_, foot_;
};

} // namespace touchmark::imprint
