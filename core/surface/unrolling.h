// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/vector.h"

namespace touchmark::surface {

/// A cylinder or a cone rolled out flat: lengths and angles of the mark are those on the surface. The parameters
/// (u, v) are u the angle about the axis, v the length along the generators; the stored surface's own, where that is
/// stored as what it is. Valid in the coordinates in which the axes are given.
struct Unrolling {
    /// Of the axis; unit and square to each other, left-handed where the part lies mirrored.
    Vec3 origin, x{1, 0, 0}, y{0, 1, 0}, z{0, 0, 1};
    double radius = 1;              ///< at v = 0
    double sine = 0, cosine = 1;    ///< of a cone's half angle. The radius at v is radius + v sine.
    double nappe = 1;               ///< −1 for a cone beyond its apex, where the radius comes out negative
    double outward = 1;             ///< 1 where the normal out of the material is radial(u)'s way, −1 against it
    Vec2 centre;                    ///< (u, v) about which it is rolled out
    Vec2 shift;                     ///< where that point is in the mark's mm
    Vec2 across{1, 0}, along{0, 1}; ///< round_direction and straight_direction there, in the mark's mm; unit
    bool recognised = false;        ///< the surface is stored as something else, a B-spline perhaps
    bool closed = false;            ///< the face runs once round its axis: a mark may lie across any seam

    [[nodiscard]] double radius_at(double v) const;
    /// v of a cone's apex. REQUIRES: a cone.
    [[nodiscard]] double apex() const;
    /// `height` over the surface along the normal out of the material.
    [[nodiscard]] Vec3 point(Vec2 uv, double height = 0) const;
    /// Unit, out of the material.
    [[nodiscard]] Vec3 normal(double u) const;
    struct Place {
        Vec3 point, normal;
    };
    [[nodiscard]] Place place(Vec2 uv, double height) const;
    /// Unit, square to the axis; of growing u where the radius is positive.
    [[nodiscard]] Vec3 round_direction(double u) const;
    /// Unit, of growing v.
    [[nodiscard]] Vec3 straight_direction(double u) const;

    [[nodiscard]] Vec2 parameters(Vec2 at) const;
    [[nodiscard]] Vec2 at(Vec2 uv) const;
    /// Of the nearest surface point, u within half a turn of the centre's.
    [[nodiscard]] Vec2 parameters_near(const Vec3& p) const;
    /// Height of a point over the surface, along the normal.
    [[nodiscard]] double height_of(const Vec3& p) const;
    /// The reading direction (growing x) there; unit.
    [[nodiscard]] Vec3 x_direction(Vec2 at) const;
    /// The same place after whole turns round the axis.
    [[nodiscard]] Vec2 turned(Vec2 at, int turns) const;
    /// How far along the normal (positive: out of the material) the surface can be moved before its normals meet on
    /// the axis; negative where that is inwards. REQUIRES: not at an apex.
    [[nodiscard]] double axis_height(double v) const;

    /// A point of a curve in the mark's plane with its first two derivatives, carried to the parameters.
    struct Jet {
        Vec2 at, first, second;
    };
    [[nodiscard]] Jet parameters(const Jet& mark) const;
};

} // namespace touchmark::surface
