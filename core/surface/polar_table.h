// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/vector.h"

#include <vector>

namespace touchmark::surface {

/// A place of the surface in its parameters and in space.
struct Laid {
    Vec2 uv;
    Vec3 point;

    friend Laid operator+(const Laid& a, const Laid& b) { return {a.uv + b.uv, a.point + b.point}; }
    friend Laid operator-(const Laid& a, const Laid& b) { return {a.uv - b.uv, a.point - b.point}; }
    friend Laid operator*(const Laid& a, double s) { return {a.uv * s, a.point * s}; }
};

/// A smooth map from the plane about the origin to the surface, tabulated on rays from it: between the rings of a ray
/// by cubics with the right slopes, between the rays by periodic cubic splines. Its part up to the second order is
/// exact, so that it is smooth at the origin as well. Values are relative to the origin's.
class PolarTable {
public:
    static constexpr int rays = 36, rings = 40;

    /// First derivatives at the origin, and twice the second-order terms of xx, xy, yy.
    struct Origin {
        Laid x, y, xx, xy, yy;
    };
    PolarTable(const Origin& origin, double reach);

    [[nodiscard]] double reach() const { return reach_; }
    /// Distance of a ring, 1 … rings, from the origin: closer together near it.
    [[nodiscard]] double radius(int ring) const { return radii_[static_cast<std::size_t>(ring)]; }
    [[nodiscard]] static double angle(int ray);
    /// Value there and its derivative along the ray.
    void set(int ray, int ring, const Laid& value, const Laid& slope);
    /// When all are set.
    void finish();

    [[nodiscard]] Laid value(Vec2 at) const;

private:
    struct Knot {
        Laid value, slope, value_bend, slope_bend; ///< the bends: second derivatives by the ray's number
    };
    [[nodiscard]] Knot& knot(int ray, int ring) { return knots_[static_cast<std::size_t>(ring * rays + ray)]; }
    [[nodiscard]] const Knot& knot(int ray, int ring) const {
        return knots_[static_cast<std::size_t>(ring * rays + ray)];
    }
    [[nodiscard]] Laid low_order(Vec2 at) const;

    Origin origin_;
    double reach_;
    std::vector<double> radii_;
    std::vector<Knot> knots_;
};

} // namespace touchmark::surface
