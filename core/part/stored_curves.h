// SPDX-License-Identifier: MIT
#pragma once

#include <BRep_CurveRepresentation.hxx>
#include <BRep_GCurve.hxx>
#include <BRep_ListIteratorOfListOfCurveRepresentation.hxx>
#include <BRep_TEdge.hxx>
#include <Geom2d_BezierCurve.hxx>
#include <Geom2d_Line.hxx>
#include <Geom_BezierCurve.hxx>
#include <Geom_Line.hxx>
#include <Geom_Surface.hxx>
#include <TopLoc_Location.hxx>
#include <TopoDS_Edge.hxx>

#include <array>
#include <type_traits>

namespace touchmark::part {

/// The object as that very class, else null: OpenCASCADE's own word for it costs a tenth of a dynamic_cast.
template <class Class, class Base> [[nodiscard]] const Class* exactly(const Base* object) {
    return object && object->DynamicType() == STANDARD_TYPE(Class) ? static_cast<const Class*>(object) : nullptr;
}

/// Poles of a Bézier of degree 3 at most, by de Casteljau; OpenCASCADE takes ten times as long.
template <class Point, class Curve> [[nodiscard]] Point value_of_bezier(const Curve& curve, double t) {
    std::array<std::remove_cvref_t<decltype(Point().Coord())>, 4> p;
    const auto degree = static_cast<std::size_t>(curve.Degree());
    for (std::size_t k = 0; k <= degree; ++k)
        p[k] = curve.Pole(static_cast<int>(k) + 1).Coord();
    for (std::size_t level = degree; level > 0; --level)
        for (std::size_t k = 0; k < level; ++k)
            p[k] = p[k] * (1 - t) + p[k + 1] * t;
    return Point(p[0]);
}
template <class Point, class Bezier, class Curve> [[nodiscard]] Point value_of(const Curve& curve, double t) {
    if (const auto* bezier = exactly<Bezier>(&curve); bezier && !bezier->IsRational() && bezier->Degree() <= 3)
        return value_of_bezier<Point>(*bezier, t);
    Point p;
    curve.D0(t, p);
    return p;
}
[[nodiscard]] inline gp_Pnt value_of(const Geom_Curve& curve, double t) {
    return value_of<gp_Pnt, Geom_BezierCurve>(curve, t);
}
[[nodiscard]] inline gp_Pnt2d value_of(const Geom2d_Curve& curve, double t) {
    return value_of<gp_Pnt2d, Geom2d_BezierCurve>(curve, t);
}

/// The curves of an edge, in space and on one surface, looked at where the edge keeps them: handles that are copied
/// would take most of the time.
struct StoredCurves {
    StoredCurves(const TopoDS_Edge& edge, const Handle(Geom_Surface) & surface, const TopLoc_Location& on) {
        const auto& shape = *static_cast<const BRep_TEdge*>(edge.TShape().get());
        degenerated = shape.Degenerated();
        tolerance = shape.Tolerance();
        const bool placed = !edge.Location().IsIdentity();
        const TopLoc_Location here = placed ? on.Predivided(edge.Location()) : on;
        for (BRep_ListIteratorOfListOfCurveRepresentation item(shape.Curves()); item.More(); item.Next()) {
            const BRep_CurveRepresentation& curve = *item.Value();
            if (curve.IsCurve3D()) {
                if (curve.Curve3D().IsNull()) continue;
                in_space = curve.Curve3D().get();
                static_cast<const BRep_GCurve&>(curve).Range(first, last);
                moved = edge.Location() * curve.Location();
            } else if (curve.IsCurveOnSurface(surface, here)) {
                const bool other_side = edge.Orientation() == TopAbs_REVERSED && curve.IsCurveOnClosedSurface();
                in_parameters = (other_side ? curve.PCurve2() : curve.PCurve()).get();
                static_cast<const BRep_GCurve&>(curve).Range(first_on, last_on);
            }
        }
    }
    [[nodiscard]] gp_Pnt point(double t) const {
        gp_Pnt p = value_of(*in_space, t);
        if (!moved.IsIdentity()) p.Transform(moved.Transformation());
        return p;
    }

    const Geom_Curve* in_space = nullptr;
    const Geom2d_Curve* in_parameters = nullptr; ///< null: none is stored
    double first = 0, last = 0, first_on = 0, last_on = 0, tolerance = 0;
    TopLoc_Location moved; ///< of the curve in space
    bool degenerated = false;
};

} // namespace touchmark::part
