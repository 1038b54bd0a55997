// SPDX-License-Identifier: MIT
#include "core/deliver/topology_entities.h"

#include "core/deliver/parameter_curves.h"

#include <BRepTools_WireExplorer.hxx>
#include <BRep_CurveOnSurface.hxx>
#include <BRep_ListIteratorOfListOfCurveRepresentation.hxx>
#include <BRep_TEdge.hxx>
#include <BRep_Tool.hxx>
#include <Geom_Plane.hxx>
#include <TopExp.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Iterator.hxx>

namespace touchmark::deliver {
namespace {

template <class Geometry> Handle(Geometry) moved(const Handle(Geometry) & geometry, const TopLoc_Location& by) {
    return by.IsIdentity() ? geometry : Handle(Geometry)::DownCast(geometry->Transformed(by.Transformation()));
}

/// As they follow each other around the wire, taken forward; empty when that is not clear.
std::vector<TopoDS_Edge> edges_in_order(const TopoDS_Wire& wire, const TopoDS_Face& face) {
    std::vector<TopoDS_Edge> edges;
    const TopoDS_Shape forward = wire.Oriented(TopAbs_FORWARD);
    for (TopoDS_Iterator item(forward); item.More(); item.Next())
        if (!BRep_Tool::Degenerated(TopoDS::Edge(item.Value()))) edges.push_back(TopoDS::Edge(item.Value()));
    const auto follows = [&](std::size_t i) {
        const TopoDS_Edge& next = edges[(i + 1) % edges.size()];
        return TopExp::LastVertex(edges[i], Standard_True).IsSame(TopExp::FirstVertex(next, Standard_True));
    };
    bool in_order = true;
    for (std::size_t i = 0; i < edges.size() && in_order; ++i)
        in_order = follows(i);
    if (in_order) return edges;
    const std::size_t count = edges.size();
    edges.clear();
    for (BRepTools_WireExplorer item(TopoDS::Wire(forward), TopoDS::Face(face.Oriented(TopAbs_FORWARD))); item.More();
         item.Next())
        if (!BRep_Tool::Degenerated(item.Current())) edges.push_back(item.Current());
    if (edges.size() != count) edges.clear();
    return edges;
}

} // namespace

int TopologyEntities::reuse(int id) {
    reused_.insert(id);
    return id;
}

int TopologyEntities::refuse(std::string why) {
    if (refused_.empty()) refused_ = std::move(why);
    return 0;
}

int TopologyEntities::vertex(const TopoDS_Shape& vertex) {
    if (const int known = unmarked_.id_of(vertex)) return reuse(known);
    if (const int* known = shapes_.Seek(vertex)) return *known;
    const int at = out_.point(BRep_Tool::Pnt(TopoDS::Vertex(vertex)));
    const int id = out_.add("VERTEX_POINT(''," + to(at) + ')');
    shapes_.Bind(vertex, id);
    return id;
}

int TopologyEntities::placed(const PlacedCurve& key) {
    if (const int* known = unmarked_.curves.Seek(key)) return reuse(*known);
    if (const int* known = curves_.Seek(key)) return *known;
    const int id = curve_entity(out_, moved(key.curve, key.location));
    if (id == 0) return refuse("a curve is of a kind that is left to OpenCASCADE");
    curves_.Bind(key, id);
    return id;
}

SurfaceEntity TopologyEntities::placed(const PlacedSurface& key) {
    if (const SurfaceEntity* known = unmarked_.surfaces.Seek(key)) {
        reuse(known->id);
        return *known;
    }
    if (const SurfaceEntity* known = surfaces_.Seek(key)) return *known;
    const SurfaceEntity entity = write(out_, moved(key.surface, key.location));
    if (entity.id == 0)
        refuse("a surface is of a kind that is left to OpenCASCADE");
    else
        surfaces_.Bind(key, entity);
    return entity;
}

/// Together with its curves in the parameters of the surfaces where a reader would have to search for them.
int TopologyEntities::with_parameters(const TopoDS_Edge& edge, const Geom_Curve& along, int curve) {
    std::string all;
    int count = 0;
    const auto& stored = *static_cast<const BRep_TEdge*>(edge.TShape().get());
    for (BRep_ListIteratorOfListOfCurveRepresentation item(stored.Curves()); item.More(); item.Next()) {
        if (!item.Value()->IsCurveOnSurface() || item.Value()->IsCurveOnClosedSurface()) continue;
        const auto* on = static_cast<const BRep_CurveOnSurface*>(item.Value().get());
        if (on->Surface()->IsKind(STANDARD_TYPE(Geom_Plane))) continue; // most are
        const Handle(Geom_Surface) bare = untrimmed(on->Surface());
        if (!is_searched_for(along, bare)) continue;
        const SurfaceEntity surface = placed(PlacedSurface{bare, edge.Location() * on->Location()});
        if (surface.id == 0) return curve;
        const int in_parameters =
            parameter_curve_entity(out_, on->PCurve(), on->First(), on->Last(), bare, surface.flipped);
        if (in_parameters == 0) return curve;
        const int context = out_.shared("(GEOMETRIC_REPRESENTATION_CONTEXT(2)PARAMETRIC_REPRESENTATION_CONTEXT()"
                                        "REPRESENTATION_CONTEXT('2D SPACE',''))");
        const int described =
            out_.add("DEFINITIONAL_REPRESENTATION('',(" + to(in_parameters) + ")," + to(context) + ')');
        all += (all.empty() ? "" : ",") + to(out_.add("PCURVE(''," + to(surface.id) + ',' + to(described) + ')'));
        ++count;
    }
    if (count == 0 || count > 2) return curve;
    return out_.add("SURFACE_CURVE(''," + to(curve) + ",(" + all + "),.CURVE_3D.)");
}

int TopologyEntities::edge(const TopoDS_Edge& edge) {
    if (const int known = unmarked_.id_of(edge)) return reuse(known);
    if (const int* known = shapes_.Seek(edge)) return *known;
    const PlacedCurve along = placed_curve(edge);
    if (along.curve.IsNull()) return refuse("an edge has no curve in space");
    const TopoDS_Edge forward = TopoDS::Edge(edge.Oriented(TopAbs_FORWARD));
    const TopoDS_Vertex first = TopExp::FirstVertex(forward), last = TopExp::LastVertex(forward);
    if (first.IsNull() || last.IsNull()) return refuse("an edge has no end");
    const int from = vertex(first), until = vertex(last), curve = with_parameters(edge, *along.curve, placed(along));
    const int id = out_.add("EDGE_CURVE(''," + to(from) + ',' + to(until) + ',' + to(curve) + ",.T.)");
    shapes_.Bind(edge, id);
    return id;
}

int TopologyEntities::loop(const TopoDS_Wire& wire, const TopoDS_Face& face) {
    if (const int known = unmarked_.id_of(wire)) return reuse(known);
    if (const int* known = shapes_.Seek(wire)) return *known;
    const std::vector<TopoDS_Edge> edges = edges_in_order(wire, face);
    if (edges.empty()) return refuse("a loop has no edges that follow each other");
    std::string list;
    for (const TopoDS_Edge& item : edges) {
        const int curve = edge(item);
        const int oriented = out_.add("ORIENTED_EDGE('',*,*," + to(curve) + ',' +
                                      std::string(truth(item.Orientation() == TopAbs_FORWARD)) + ')');
        list += list.empty() ? "" : ",";
        list += to(oriented);
    }
    const int id = out_.add("EDGE_LOOP('',(" + list + "))");
    shapes_.Bind(wire, id);
    return id;
}

std::string TopologyEntities::face(const TopoDS_Face& face, const std::vector<int>& old_bounds) {
    std::map<std::pair<int, bool>, int> old;
    for (const int bound : old_bounds) {
        const Record record = unmarked_.file.record(bound);
        old[{reference(record.argument(1)), record.argument(2) == ".T."}] = bound;
    }
    const bool forward = face.Orientation() == TopAbs_FORWARD;
    if (!forward && face.Orientation() != TopAbs_REVERSED) refuse("a face lies within the material");
    std::string bounds;
    for (TopoDS_Iterator item(face.Oriented(TopAbs_FORWARD)); item.More(); item.Next()) {
        if (item.Value().ShapeType() != TopAbs_WIRE) {
            refuse("a face holds more than loops");
            continue;
        }
        const bool along = (item.Value().Orientation() == TopAbs_FORWARD) == forward;
        const int round = loop(TopoDS::Wire(item.Value()), face);
        const auto known = old.find({round, along});
        const int bound = known != old.end()
                              ? reuse(known->second)
                              : out_.add("FACE_BOUND(''," + to(round) + ',' + std::string(truth(along)) + ')');
        bounds += bounds.empty() ? "" : ",";
        bounds += to(bound);
    }
    const SurfaceEntity on = placed(placed_surface(face));
    return '(' + bounds + ")," + to(on.id) + ',' + std::string(truth(forward != on.flipped));
}

} // namespace touchmark::deliver
