// SPDX-License-Identifier: MIT
#include "core/imprint/scars.h"

#include <BRepTools_ReShape.hxx>
#include <BRep_Builder.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopTools_MapOfShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Iterator.hxx>

namespace touchmark::imprint {
namespace {

bool bounds(const TopoDS_Shape& edge) {
    return edge.Orientation() == TopAbs_FORWARD || edge.Orientation() == TopAbs_REVERSED;
}

/// Edges that bound some face.
TopTools_MapOfShape bounding_edges(const TopoDS_Shape& solid) {
    TopTools_MapOfShape edges;
    for (TopExp_Explorer edge(solid, TopAbs_EDGE); edge.More(); edge.Next())
        if (bounds(edge.Current())) edges.Add(edge.Current());
    return edges;
}

/// The face, taken forward, without edges that are not among these; a loop of nothing else is left out.
TopoDS_Face bounded_by(const TopoDS_Face& face, const TopTools_MapOfShape& edges) {
    const BRep_Builder builder;
    TopoDS_Face out = TopoDS::Face(face.EmptyCopied());
    for (TopoDS_Iterator wire(face); wire.More(); wire.Next()) {
        if (wire.Value().ShapeType() != TopAbs_WIRE) continue;
        TopoDS_Shape kept = wire.Value().EmptyCopied();
        bool any = false, all = true;
        for (TopoDS_Iterator edge(wire.Value().Oriented(TopAbs_FORWARD)); edge.More(); edge.Next()) {
            const bool keep = edges.Contains(edge.Value());
            if (keep) builder.Add(kept, edge.Value());
            any = any || keep;
            all = all && keep;
        }
        kept.Closed(wire.Value().Closed());
        if (any) builder.Add(out, all ? wire.Value() : kept);
    }
    return out;
}

} // namespace

void remove_scars(TopoDS_Shape& solid, const TopoDS_Shape& before, const Handle(BRepTools_History) & history) {
    TopTools_IndexedMapOfShape old_faces;
    TopExp::MapShapes(before, TopAbs_FACE, old_faces);
    const TopTools_MapOfShape edges = bounding_edges(solid);
    const Handle(BRepTools_ReShape) reshape = new BRepTools_ReShape;
    bool any = false;
    for (TopExp_Explorer face(solid, TopAbs_FACE); face.More(); face.Next()) {
        if (old_faces.Contains(face.Current())) continue;
        bool scarred = false;
        for (TopExp_Explorer edge(face.Current(), TopAbs_EDGE); edge.More() && !scarred; edge.Next())
            scarred = !edges.Contains(edge.Current());
        if (!scarred) continue;
        const TopoDS_Face forward = TopoDS::Face(face.Current().Oriented(TopAbs_FORWARD));
        reshape->Replace(forward, bounded_by(forward, edges));
        any = true;
    }
    if (!any) return;
    solid = reshape->Apply(solid);
    history->Merge(reshape->History());
}

} // namespace touchmark::imprint
