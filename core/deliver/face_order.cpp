// SPDX-License-Identifier: MIT
#include "core/deliver/face_order.h"

#include <BRep_Builder.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Iterator.hxx>

#include <algorithm>
#include <vector>

namespace touchmark::deliver {
namespace {

constexpr int many = 100;

struct Counted {
    TopoDS_Shape face;
    int edges = 0;
};

std::vector<Counted> faces_of(const TopoDS_Shape& shell) {
    std::vector<Counted> faces;
    for (TopoDS_Iterator at(shell, Standard_False, Standard_False); at.More(); at.Next()) {
        Counted counted{at.Value(), 0};
        for (TopExp_Explorer edge(counted.face, TopAbs_EDGE); edge.More(); edge.Next())
            ++counted.edges;
        faces.push_back(std::move(counted));
    }
    return faces;
}

TopoDS_Shape reordered(const TopoDS_Shape& shell, std::vector<Counted> faces) {
    std::ranges::stable_sort(faces, {}, [](const Counted& f) { return f.edges > many ? f.edges : 0; });
    BRep_Builder builder;
    TopoDS_Shell out;
    builder.MakeShell(out);
    for (const Counted& counted : faces)
        builder.Add(out, counted.face);
    out.Closed(shell.Closed());
    out.Orientation(shell.Orientation());
    out.Location(shell.Location());
    return out;
}

} // namespace

Handle(BRepTools_ReShape) faces_with_many_edges_last(const TopoDS_Shape& shape) {
    Handle(BRepTools_ReShape) changes = new BRepTools_ReShape;
    for (TopExp_Explorer shell(shape, TopAbs_SHELL); shell.More(); shell.Next()) {
        if (changes->IsRecorded(shell.Current())) continue;
        std::vector<Counted> faces = faces_of(shell.Current());
        if (std::ranges::any_of(faces, [](const Counted& f) { return f.edges > many; }))
            changes->Replace(shell.Current(), reordered(shell.Current(), std::move(faces)));
    }
    return changes;
}

} // namespace touchmark::deliver
