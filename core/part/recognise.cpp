// SPDX-License-Identifier: MIT
#include "core/part/recognise.h"

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

} // namespace

std::optional<gp_Pln> recognised_plane(const BRepAdaptor_Surface& surface) {
    const std::vector<gp_Pnt> hull = hull_of(surface);
    if (hull.empty()) return std::nullopt;
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
    if (std::max(-low, high) > flat_within) return std::nullopt;
    return gp_Pln(gp_Ax3(middle, gp_Dir(normal), gp_Dir(du)));
}

} // namespace touchmark::part
