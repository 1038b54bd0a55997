// SPDX-License-Identifier: MIT
#pragma once

// The walls around one contour, each between a rim on the host face and a foot on the floor.

#include <BRep_Builder.hxx>
#include <BRep_Curve3D.hxx>
#include <BRep_CurveOnSurface.hxx>
#include <BRep_TEdge.hxx>
#include <Geom2d_Curve.hxx>
#include <Geom_Line.hxx>
#include <Geom_Surface.hxx>
#include <TopLoc_Location.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Face.hxx>
#include <TopoDS_Vertex.hxx>
#include <TopoDS_Wire.hxx>

#include <vector>

namespace touchmark::imprint {

/// The edges around one wall: rim and foot run with the contour, `upright` leads from rim to foot at the start.
struct Strip {
    TopoDS_Vertex rim_start, foot_start;
    TopoDS_Edge rim, foot, upright;
};

/// An edge from vertex to vertex along a curve between two parameters. Its curves go straight to where it keeps them:
/// BRep_Builder looks each time for one that is there already, which takes longer than all else.
inline void lay_edge(TopoDS_Edge& edge, const Handle(Geom_Curve) & curve, const TopoDS_Vertex& from,
                     const TopoDS_Vertex& to, double first, double last, double tolerance) {
    const BRep_Builder builder;
    builder.MakeEdge(edge);
    const Handle(BRep_Curve3D) in_space = new BRep_Curve3D(curve, TopLoc_Location());
    in_space->SetRange(first, last);
    auto& shape = *static_cast<BRep_TEdge*>(edge.TShape().get());
    shape.ChangeCurves().Append(in_space);
    shape.Tolerance(tolerance);
    builder.Add(edge, from.Oriented(TopAbs_FORWARD));
    builder.Add(edge, to.Oriented(TopAbs_REVERSED));
    builder.UpdateVertex(from, tolerance);
    builder.UpdateVertex(to, tolerance);
}

/// The edge's curve in the parameters of a surface, over the range of its curve in space.
/// REQUIRES: the edge comes from lay_edge() and has none on that surface yet.
inline void lay_on(const TopoDS_Edge& edge, const Handle(Geom2d_Curve) & curve, const Handle(Geom_Surface) & surface,
                   const TopLoc_Location& location, double tolerance) {
    auto& shape = *static_cast<BRep_TEdge*>(edge.TShape().get());
    const auto& in_space = static_cast<const BRep_GCurve&>(*shape.Curves().First());
    const Handle(BRep_CurveOnSurface) on = new BRep_CurveOnSurface(curve, surface, location);
    on->SetRange(in_space.First(), in_space.Last());
    shape.ChangeCurves().Append(on);
    shape.UpdateTolerance(tolerance);
}

/// The upright at the start, with its vertices; its parameter is the length from the rim.
inline void stand_upright(Strip& strip, const gp_Pnt& rim, const gp_Pnt& foot, const gp_Dir& way, double height,
                          double tolerance) {
    const BRep_Builder builder;
    builder.MakeVertex(strip.rim_start, rim, tolerance);
    builder.MakeVertex(strip.foot_start, foot, tolerance);
    lay_edge(strip.upright, new Geom_Line(rim, way), strip.rim_start, strip.foot_start, 0, height, tolerance);
}

/// `stand(strip, i)` makes the upright at the start of segment i, `span(i, strip, next)` its rim, foot and face, still
/// without wire. The wires run as the contour does.
template <class Stand, class Span>
void build_walls_around(std::size_t count, Stand&& stand, Span&& span, TopoDS_Wire& rim, TopoDS_Wire& foot,
                        std::vector<TopoDS_Face>& walls) {
    const BRep_Builder builder;
    std::vector<Strip> strips(count);
    for (std::size_t i = 0; i < count; ++i)
        stand(strips[i], i);
    builder.MakeWire(rim);
    builder.MakeWire(foot);
    std::vector<TopoDS_Face> fresh(count);
    for (std::size_t i = 0; i < count; ++i) {
        fresh[i] = span(i, strips[i], strips[(i + 1) % count]);
        builder.Add(rim, strips[i].rim);
        builder.Add(foot, strips[i].foot);
    }
    for (std::size_t i = 0; i < count; ++i) {
        TopoDS_Wire wire;
        builder.MakeWire(wire);
        builder.Add(wire, strips[i].rim);
        builder.Add(wire, strips[(i + 1) % count].upright);
        builder.Add(wire, strips[i].foot.Reversed());
        builder.Add(wire, strips[i].upright.Reversed());
        wire.Closed(Standard_True);
        builder.Add(fresh[i], wire);
        walls.push_back(fresh[i]);
    }
    rim.Closed(Standard_True);
    foot.Closed(Standard_True);
}

} // namespace touchmark::imprint
