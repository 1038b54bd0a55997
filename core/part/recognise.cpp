// SPDX-License-Identifier: MIT
#include "core/part/recognise.h"

#include "core/part/patch.h"
#include "core/part/vectors.h"

#include <BRepAdaptor_Surface.hxx>
#include <Geom_BSplineCurve.hxx>
#include <Geom_BSplineSurface.hxx>
#include <Geom_BezierCurve.hxx>
#include <Geom_BezierSurface.hxx>

#include <algorithm>
#include <cmath>
#include <vector>

namespace touchmark::part {
namespace {

template <class Surface> std::vector<gp_Pnt> poles_of(const Surface& surface) {
    std::vector<gp_Pnt> poles;
    for (int i = 1; i <= surface.NbUPoles(); ++i)
        for (int j = 1; j <= surface.NbVPoles(); ++j)
            poles.push_back(surface.Pole(i, j));
    return poles;
}

template <class Curve> std::vector<gp_Pnt> poles_along(const Curve& curve, const gp_Vec& way) {
    std::vector<gp_Pnt> poles;
    for (int i = 1; i <= curve.NbPoles(); ++i) {
        poles.push_back(curve.Pole(i));
        poles.push_back(curve.Pole(i).Translated(way));
    }
    return poles;
}

/// Points whose hull holds the surface; empty for what is no such patch.
std::vector<gp_Pnt> hull_of(const BRepAdaptor_Surface& surface) {
    switch (surface.GetType()) {
    case GeomAbs_BSplineSurface:
        return poles_of(*surface.BSpline());
    case GeomAbs_BezierSurface:
        return poles_of(*surface.Bezier());
    case GeomAbs_SurfaceOfExtrusion: {
        const Handle(Adaptor3d_Curve) base = surface.BasisCurve();
        const gp_Vec way(surface.Direction());
        if (base->GetType() == GeomAbs_Line)
            return {base->Value(0), base->Value(1), base->Value(0).Translated(way), base->Value(1).Translated(way)};
        if (base->GetType() == GeomAbs_BSplineCurve) return poles_along(*base->BSpline(), way);
        if (base->GetType() == GeomAbs_BezierCurve) return poles_along(*base->Bezier(), way);
        return {};
    }
    default:
        return {};
    }
}

/// Of what the surface covers, when that is flat within `taken_within`, and where some of the surface is.
std::optional<gp_Pln> plane_of(const BRepAdaptor_Surface& surface, const std::vector<gp_Pnt>& hull) {
    gp_Pnt middle;
    gp_Vec du, dv;
    surface.D1((surface.FirstUParameter() + surface.LastUParameter()) / 2,
               (surface.FirstVParameter() + surface.LastVParameter()) / 2, middle, du, dv);
    const gp_Vec rough = du.Crossed(dv);
    if (rough.Magnitude() <= 1e-9 * du.Magnitude() * dv.Magnitude() || rough.Magnitude() == 0) return std::nullopt;
    // The widest triangle on the middle gives the normal more exactly than the derivatives at one point.
    const auto farthest = std::max_element(hull.begin(), hull.end(), [&](const gp_Pnt& a, const gp_Pnt& b) {
        return a.SquareDistance(middle) < b.SquareDistance(middle);
    });
    const gp_Vec one(middle, *farthest);
    gp_Vec normal;
    for (const gp_Pnt& p : hull)
        if (const gp_Vec candidate = one.Crossed(gp_Vec(middle, p)); candidate.Magnitude() > normal.Magnitude())
            normal = candidate;
    if (normal.Magnitude() <= 1e-12) return std::nullopt;
    normal.Normalize();
    if (normal.Dot(rough) < 0) normal.Reverse();
    double low = 0, high = 0;
    for (const gp_Pnt& p : hull) {
        const double height = gp_Vec(middle, p).Dot(normal);
        low = std::min(low, height);
        high = std::max(high, height);
    }
    if (std::max(-low, high) > taken_within) return std::nullopt;
    return gp_Pln(gp_Ax3(middle, gp_Dir(normal), gp_Dir(du)));
}

} // namespace

std::optional<gp_Pln> recognised_plane(const TopoDS_Face& face) {
    const BRepAdaptor_Surface surface(face);
    if (surface.GetType() < GeomAbs_BezierSurface) return std::nullopt;
    if (const std::vector<gp_Pnt> hull = hull_of(surface); !hull.empty())
        if (const auto plane = plane_of(surface, hull)) return plane;
    const Patch patch(surface);
    if (!patch.is_finite()) return std::nullopt;
    std::vector<gp_Pnt> points;
    for (const PatchPoint& p : patch.spread(4))
        points.push_back(point(p.at));
    if (!plane_of(surface, points)) return std::nullopt;
    points.clear();
    for (const PatchPoint& p : patch.dense())
        points.push_back(point(p.at));
    return plane_of(surface, points);
}

} // namespace touchmark::part
