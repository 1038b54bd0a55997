// SPDX-License-Identifier: MIT
#pragma once

// Faces on surfaces that cannot be rolled out (spheres, tori, freeform) as OpenCASCADE has them. For surface and
// imprint only.

#include "core/base/result.h"
#include "core/geometry/contour.h"

#include <GeomAdaptor_Surface.hxx>
#include <Geom_Surface.hxx>
#include <TopLoc_Location.hxx>
#include <TopoDS_Face.hxx>
#include <gp_Trsf.hxx>

#include <cstdint>
#include <memory>
#include <optional>
#include <vector>

namespace touchmark::surface {

/// The surface of a face in its own parameters (u, v), those of its edges' curves.
struct CurvedFace {
    Handle(Geom_Surface) surface; ///< without trimming, in its own coordinates
    TopLoc_Location location;     ///< of the surface in the product
    gp_Trsf placing;              ///< surface → part
    double side = 1;              ///< 1 where ∂u × ∂v points out of the material, −1 against it
    Vec2 period;                  ///< 0: none
    Box2 domain;                  ///< what the face's edges cover
    Vec2 scale{1, 1};             ///< mm a unit of u and of v in the middle
    /// The edges as polygons within 5e-4 mm, seams and collapsed edges included; closed, even-odd the face.
    std::vector<geometry::Polygon> loops;
    /// The same with its copies after whole periods and without seams: what a mark may lie on.
    std::vector<geometry::Polygon> area;
    /// Parameters at which the surface is less than three times smooth, in the domain; ascending.
    std::vector<double> breaks_u, breaks_v;
    std::vector<Vec3> poles; ///< in part coordinates: where the surface collapses to a point
    std::uint64_t id = 0;    ///< no two have the same

    /// Into the face's domain; what lies beyond, on its edge. Whole periods are kept.
    [[nodiscard]] Vec2 clamped(Vec2 uv) const;
};

/// Errors: "surface.degenerate".
[[nodiscard]] Result<CurvedFace> curved_face(const TopoDS_Face& face, const gp_Trsf& placing);
/// Only the loops, in a face that shares the surface.
[[nodiscard]] Result<std::vector<geometry::Polygon>> parameter_loops(const TopoDS_Face& face, Vec2 scale);
/// A point of the wire in the parameters of its face.
[[nodiscard]] std::optional<Vec2> parameter_point(const TopoDS_Shape& wire, const TopoDS_Face& face);

/// Points and derivatives of a surface in the coordinates of `to`. Remembers the last patch it was asked for: one a
/// thread.
class SurfaceEvaluator {
public:
    SurfaceEvaluator(const CurvedFace& face, const gp_Trsf& to);

    struct First {
        Vec3 point, du, dv;
    };
    struct Second {
        Vec3 point, du, dv, duu, duv, dvv;
    };
    struct Place {
        Vec3 point, normal; ///< out of the material, unit
    };
    [[nodiscard]] First first(Vec2 uv) const;
    [[nodiscard]] Second second(Vec2 uv) const;
    [[nodiscard]] Place place(Vec2 uv) const;
    /// Out of the material, unit; null where the surface is collapsed.
    [[nodiscard]] Vec3 normal(const Vec3& du, const Vec3& dv) const;

private:
    [[nodiscard]] Vec3 carried(const gp_Vec& v) const { return x_ * v.X() + y_ * v.Y() + z_ * v.Z(); }
    [[nodiscard]] Vec3 carried(const gp_Pnt& p) const { return x_ * p.X() + y_ * p.Y() + z_ * p.Z() + origin_; }

    GeomAdaptor_Surface surface_;
    Vec3 x_, y_, z_, origin_;
    double side_;
    Vec2 inwards_; ///< a point well inside the domain
};

/// In part coordinates; the calling thread's own, until it asks for another face's.
[[nodiscard]] const SurfaceEvaluator& evaluator_of(const CurvedFace& face);

/// Normal curvatures in the two principal directions, positive where the surface bends away from its outward normal
/// (as a ball does).
struct Curvatures {
    double least = 0, most = 0;
};
[[nodiscard]] Curvatures curvatures(const SurfaceEvaluator::Second& at, const Vec3& normal);

} // namespace touchmark::surface
