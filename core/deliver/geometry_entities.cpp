// SPDX-License-Identifier: MIT
#include "core/deliver/geometry_entities.h"

#include <GeomConvert.hxx>
#include <Geom_BSplineCurve.hxx>
#include <Geom_BSplineSurface.hxx>
#include <Geom_BezierCurve.hxx>
#include <Geom_BezierSurface.hxx>
#include <Geom_Circle.hxx>
#include <Geom_ConicalSurface.hxx>
#include <Geom_CylindricalSurface.hxx>
#include <Geom_Ellipse.hxx>
#include <Geom_Line.hxx>
#include <Geom_OffsetSurface.hxx>
#include <Geom_Plane.hxx>
#include <Geom_SphericalSurface.hxx>
#include <Geom_SurfaceOfLinearExtrusion.hxx>
#include <Geom_ToroidalSurface.hxx>

namespace touchmark::deliver {
namespace {

std::string integers(const TColStd_Array1OfInteger& values) {
    return list_of(values.Lower(), values.Upper(), [&](int i) { return std::to_string(values(i)); });
}

std::string reals(const TColStd_Array1OfReal& values) {
    return list_of(values.Lower(), values.Upper(), [&](int i) { return real(values(i)); });
}

int bspline_curve(Entities& out, Handle(Geom_BSplineCurve) curve) {
    if (curve->IsPeriodic()) {
        curve = Handle(Geom_BSplineCurve)::DownCast(curve->Copy());
        curve->SetNotPeriodic();
    }
    const std::string shape = std::to_string(curve->Degree()) + ',' +
                              list_of(1, curve->NbPoles(), [&](int i) { return to(out.point(curve->Pole(i))); }) +
                              ",.UNSPECIFIED.," + std::string(truth(curve->IsClosed())) + ",.F.";
    TColStd_Array1OfInteger folds(1, curve->NbKnots());
    TColStd_Array1OfReal knots(1, curve->NbKnots());
    curve->Multiplicities(folds);
    curve->Knots(knots);
    const std::string knotted = integers(folds) + ',' + reals(knots) + ",.UNSPECIFIED.";
    if (!curve->IsRational()) return out.add("B_SPLINE_CURVE_WITH_KNOTS(''," + shape + ',' + knotted + ')');
    const std::string weights = list_of(1, curve->NbPoles(), [&](int i) { return real(curve->Weight(i)); });
    return out.add("(BOUNDED_CURVE()B_SPLINE_CURVE(" + shape + ")B_SPLINE_CURVE_WITH_KNOTS(" + knotted +
                   ")CURVE()GEOMETRIC_REPRESENTATION_ITEM()RATIONAL_B_SPLINE_CURVE(" + weights +
                   ")REPRESENTATION_ITEM(''))");
}

/// One piece, without the conversion that costs more than the writing.
int bezier_curve(Entities& out, const Geom_BezierCurve& curve) {
    const std::string order = std::to_string(curve.Degree() + 1);
    return out.add("B_SPLINE_CURVE_WITH_KNOTS(''," + std::to_string(curve.Degree()) + ',' +
                   list_of(1, curve.NbPoles(), [&](int i) { return to(out.point(curve.Pole(i))); }) +
                   ",.UNSPECIFIED.," + std::string(truth(curve.IsClosed())) + ",.F.,(" + order + ',' + order +
                   "),(0.,1.),.UNSPECIFIED.)");
}

int bspline_surface(Entities& out, Handle(Geom_BSplineSurface) surface) {
    if (surface->IsUPeriodic() || surface->IsVPeriodic()) {
        surface = Handle(Geom_BSplineSurface)::DownCast(surface->Copy());
        surface->SetUNotPeriodic();
        surface->SetVNotPeriodic();
    }
    const auto grid = [&](auto&& element) {
        return list_of(1, surface->NbUPoles(),
                       [&](int i) { return list_of(1, surface->NbVPoles(), [&](int j) { return element(i, j); }); });
    };
    const std::string shape = std::to_string(surface->UDegree()) + ',' + std::to_string(surface->VDegree()) + ',' +
                              grid([&](int i, int j) { return to(out.point(surface->Pole(i, j))); }) +
                              ",.UNSPECIFIED.," + std::string(truth(surface->IsUClosed())) + ',' +
                              std::string(truth(surface->IsVClosed())) + ",.F.";
    TColStd_Array1OfInteger u_folds(1, surface->NbUKnots()), v_folds(1, surface->NbVKnots());
    TColStd_Array1OfReal u_knots(1, surface->NbUKnots()), v_knots(1, surface->NbVKnots());
    surface->UMultiplicities(u_folds);
    surface->VMultiplicities(v_folds);
    surface->UKnots(u_knots);
    surface->VKnots(v_knots);
    const std::string knotted =
        integers(u_folds) + ',' + integers(v_folds) + ',' + reals(u_knots) + ',' + reals(v_knots) + ",.UNSPECIFIED.";
    if (!surface->IsURational() && !surface->IsVRational())
        return out.add("B_SPLINE_SURFACE_WITH_KNOTS(''," + shape + ',' + knotted + ')');
    const std::string weights = grid([&](int i, int j) { return real(surface->Weight(i, j)); });
    return out.add("(BOUNDED_SURFACE()B_SPLINE_SURFACE(" + shape + ")B_SPLINE_SURFACE_WITH_KNOTS(" + knotted +
                   ")GEOMETRIC_REPRESENTATION_ITEM()RATIONAL_B_SPLINE_SURFACE(" + weights +
                   ")REPRESENTATION_ITEM('')SURFACE())");
}

int elementary_surface(Entities& out, const Handle(Geom_ElementarySurface) & surface) {
    const auto with = [&](const char* type, const std::string& sizes) {
        return out.add(std::string(type) + "(''," + to(out.placement(surface->Position())) + sizes + ')');
    };
    if (surface->IsKind(STANDARD_TYPE(Geom_Plane))) return with("PLANE", "");
    if (const auto s = Handle(Geom_CylindricalSurface)::DownCast(surface); !s.IsNull())
        return with("CYLINDRICAL_SURFACE", ',' + out.length(s->Radius()));
    if (const auto s = Handle(Geom_SphericalSurface)::DownCast(surface); !s.IsNull())
        return with("SPHERICAL_SURFACE", ',' + out.length(s->Radius()));
    if (const auto s = Handle(Geom_ToroidalSurface)::DownCast(surface); !s.IsNull()) {
        if (s->MajorRadius() < s->MinorRadius()) return 0; // crosses itself
        return with("TOROIDAL_SURFACE", ',' + out.length(s->MajorRadius()) + ',' + out.length(s->MinorRadius()));
    }
    if (const auto s = Handle(Geom_ConicalSurface)::DownCast(surface); !s.IsNull()) {
        if (s->SemiAngle() > 0)
            return with("CONICAL_SURFACE", ',' + out.length(s->RefRadius()) + ',' + real(s->SemiAngle()));
        // ISO 10303-42 wants a cone to widen along its axis: seen from the other end it does, its normal as before.
        gp_Ax3 axes = s->Position();
        axes.ZReverse();
        return out.add("CONICAL_SURFACE(''," + to(out.placement(axes)) + ',' + out.length(s->RefRadius()) + ',' +
                       real(-s->SemiAngle()) + ')');
    }
    return 0;
}

} // namespace

int curve_entity(Entities& out, const Handle(Geom_Curve) & curve) {
    if (const auto c = Handle(Geom_Line)::DownCast(curve); !c.IsNull()) {
        const int at = out.point(c->Position().Location());
        return out.add("LINE(''," + to(at) + ',' + to(out.vector(c->Position().Direction())) + ')');
    }
    if (const auto c = Handle(Geom_Circle)::DownCast(curve); !c.IsNull())
        return out.add("CIRCLE(''," + to(out.placement(c->Position())) + ',' + out.length(c->Radius()) + ')');
    if (const auto c = Handle(Geom_Ellipse)::DownCast(curve); !c.IsNull())
        return out.add("ELLIPSE(''," + to(out.placement(c->Position())) + ',' + out.length(c->MajorRadius()) + ',' +
                       out.length(c->MinorRadius()) + ')');
    if (const auto c = Handle(Geom_BSplineCurve)::DownCast(curve); !c.IsNull()) return bspline_curve(out, c);
    if (const auto c = Handle(Geom_BezierCurve)::DownCast(curve); !c.IsNull())
        return c->IsRational() ? bspline_curve(out, GeomConvert::CurveToBSplineCurve(c)) : bezier_curve(out, *c);
    return 0;
}

SurfaceEntity SurfaceWriter::write(Entities& out, const Handle(Geom_Surface) & surface) {
    if (const auto s = Handle(Geom_ElementarySurface)::DownCast(surface); !s.IsNull()) {
        return {elementary_surface(out, s), !s->Position().Direct()};
    }
    if (const auto s = Handle(Geom_BSplineSurface)::DownCast(surface); !s.IsNull())
        return {bspline_surface(out, s), false};
    if (const auto s = Handle(Geom_BezierSurface)::DownCast(surface); !s.IsNull())
        return {bspline_surface(out, GeomConvert::SurfaceToBSplineSurface(s)), false};
    if (const auto s = Handle(Geom_SurfaceOfLinearExtrusion)::DownCast(surface); !s.IsNull()) {
        const int basis = curve(s->BasisCurve());
        if (basis == 0) return {};
        return {out.add("SURFACE_OF_LINEAR_EXTRUSION(''," + to(basis) + ',' + to(out.vector(s->Direction())) + ')'),
                false};
    }
    if (const auto s = Handle(Geom_OffsetSurface)::DownCast(surface); !s.IsNull()) {
        const SurfaceEntity basis = this->surface(s->BasisSurface());
        if (basis.id == 0) return {};
        const double away = basis.flipped ? -s->Offset() : s->Offset();
        return {out.add("OFFSET_SURFACE(''," + to(basis.id) + ',' + out.length(away) + ",.F.)"), basis.flipped};
    }
    return {};
}

} // namespace touchmark::deliver
