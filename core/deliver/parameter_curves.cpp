// SPDX-License-Identifier: MIT
#include "core/deliver/parameter_curves.h"

#include "core/deliver/unmarked.h"

#include <Geom2dConvert.hxx>
#include <Geom2d_BSplineCurve.hxx>
#include <Geom2d_BezierCurve.hxx>
#include <Geom2d_Line.hxx>
#include <Geom_BSplineSurface.hxx>
#include <Geom_BezierSurface.hxx>
#include <Geom_Conic.hxx>
#include <Geom_ConicalSurface.hxx>
#include <Geom_Line.hxx>
#include <Geom_OffsetSurface.hxx>
#include <Geom_SphericalSurface.hxx>
#include <Geom_ToroidalSurface.hxx>
#include <TColStd_Array1OfInteger.hxx>
#include <TColStd_Array1OfReal.hxx>
#include <TColgp_Array1OfPnt2d.hxx>
#include <gp_Vec2d.hxx>

#include <cmath>

namespace touchmark::deliver {
namespace {

bool is_cone(const Geom_Surface& surface) {
    return surface.IsKind(STANDARD_TYPE(Geom_ConicalSurface));
}

Handle(Geom_Surface) basis_of(const Handle(Geom_Surface) & surface) {
    const auto parallel = Handle(Geom_OffsetSurface)::DownCast(surface);
    return parallel.IsNull() ? surface : basis_of(untrimmed(parallel->BasisSurface()));
}

/// From this program's parameters to the file's.
struct InFile {
    double u = 1, v = 1; ///< factors
    gp_Vec2d turned;     ///< added after

    [[nodiscard]] gp_Pnt2d at(const gp_Pnt2d& p) const { return {p.X() * u + turned.X(), p.Y() * v + turned.Y()}; }
    [[nodiscard]] bool same() const { return u == 1 && v == 1; }
};

InFile factors(const Handle(Geom_Surface) & basis, bool mirrored, double unit_mm) {
    InFile out{mirrored ? -1.0 : 1.0, 1, {}}; // left-handed axes are written as right-handed ones
    if (const auto cone = Handle(Geom_ConicalSurface)::DownCast(basis); !cone.IsNull()) {
        out.v = std::cos(cone->SemiAngle()) / unit_mm;             // along the slant here
        if (cone->SemiAngle() < 0) out.u = -out.u, out.v = -out.v; // written as seen from its other end
    }
    return out;
}

/// By whole turns to where a surface that closes has the middle of the curve.
gp_Vec2d turn_into(const Geom_Surface& surface, const gp_Pnt2d& middle) {
    double u_least = 0, u_most = 0, v_least = 0, v_most = 0;
    surface.Bounds(u_least, u_most, v_least, v_most);
    const auto turn = [](double period, double least, double at) {
        return -period * std::floor((at - least) / period);
    };
    return {surface.IsUPeriodic() ? turn(surface.UPeriod(), u_least, middle.X()) : 0,
            surface.IsVPeriodic() ? turn(surface.VPeriod(), v_least, middle.Y()) : 0};
}

std::string parameters(const gp_Pnt2d& at) {
    return '(' + real(at.X()) + ',' + real(at.Y()) + ')';
}

int point(Entities& out, const gp_Pnt2d& at) {
    return out.shared("CARTESIAN_POINT(''," + parameters(at) + ')');
}

int line(Entities& out, const Geom2d_Line& line, const InFile& to_file) {
    const gp_Dir2d& way = line.Direction();
    const int direction = out.shared("DIRECTION(''," + parameters({way.X(), way.Y()}) + ')');
    const int vector = out.shared("VECTOR(''," + to(direction) + ",1.)");
    return out.add("LINE(''," + to(point(out, to_file.at(line.Location()))) + ',' + to(vector) + ')');
}

/// A line would lose its parameter, which is that of the curve in space, with the unit.
Handle(Geom2d_BSplineCurve) stretch_of(const Geom2d_Line& line, double first, double last) {
    TColgp_Array1OfPnt2d poles(1, 2);
    poles(1) = line.Value(first), poles(2) = line.Value(last);
    TColStd_Array1OfReal knots(1, 2);
    knots(1) = first, knots(2) = last;
    TColStd_Array1OfInteger folds(1, 2);
    folds.Init(2);
    return new Geom2d_BSplineCurve(poles, knots, folds, 1);
}

int bspline(Entities& out, const Geom2d_BSplineCurve& curve, const InFile& to_file) {
    if (curve.IsRational() || curve.IsPeriodic()) return 0;
    return out.add("B_SPLINE_CURVE_WITH_KNOTS(''," + std::to_string(curve.Degree()) + ',' +
                   list_of(1, curve.NbPoles(), [&](int i) { return to(point(out, to_file.at(curve.Pole(i)))); }) +
                   ",.UNSPECIFIED.," + std::string(truth(curve.IsClosed())) + ",.F.," +
                   list_of(1, curve.NbKnots(), [&](int i) { return std::to_string(curve.Multiplicity(i)); }) + ',' +
                   list_of(1, curve.NbKnots(), [&](int i) { return real(curve.Knot(i)); }) + ",.UNSPECIFIED.)");
}

} // namespace

bool is_searched_for(const Geom_Curve& curve, const Handle(Geom_Surface) & surface) {
    const Handle(Geom_Surface) basis = basis_of(surface);
    if (is_cone(*basis)) return !curve.IsKind(STANDARD_TYPE(Geom_Line)) && !curve.IsKind(STANDARD_TYPE(Geom_Conic));
    for (const auto& kind : {STANDARD_TYPE(Geom_BSplineSurface), STANDARD_TYPE(Geom_BezierSurface),
                             STANDARD_TYPE(Geom_SphericalSurface), STANDARD_TYPE(Geom_ToroidalSurface)})
        if (basis->IsKind(kind)) return true;
    return false;
}

int parameter_curve_entity(Entities& out, const Handle(Geom2d_Curve) & curve, double first, double last,
                           const Handle(Geom_Surface) & surface, bool mirrored) {
    InFile to_file = factors(basis_of(surface), mirrored, out.unit_mm());
    to_file.turned = turn_into(*surface, to_file.at(curve->Value((first + last) / 2)));
    if (const auto straight = Handle(Geom2d_Line)::DownCast(curve); !straight.IsNull())
        return to_file.same() ? line(out, *straight, to_file)
                              : bspline(out, *stretch_of(*straight, first, last), to_file);
    if (const auto bezier = Handle(Geom2d_BezierCurve)::DownCast(curve); !bezier.IsNull())
        return bspline(out, *Geom2dConvert::CurveToBSplineCurve(bezier), to_file);
    if (const auto spline = Handle(Geom2d_BSplineCurve)::DownCast(curve); !spline.IsNull())
        return bspline(out, *spline, to_file);
    return 0;
}

} // namespace touchmark::deliver
