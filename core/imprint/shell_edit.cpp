// SPDX-License-Identifier: MIT
#include "core/imprint/shell_edit.h"

#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Compound.hxx>
#include <TopoDS_Iterator.hxx>
#include <TopoDS_Shell.hxx>

#include <algorithm>

namespace touchmark::imprint {
namespace {

bool holds(const TopoDS_Shape& shape, const TopoDS_Shape& part) {
    if (shape.IsSame(part)) return true;
    if (shape.ShapeType() >= part.ShapeType()) return false;
    for (TopoDS_Iterator item(shape); item.More(); item.Next())
        if (holds(item.Value(), part)) return true;
    return false;
}

} // namespace

OpenedFace open_face(const TopoDS_Face& face, const HostSurface& surface, const Walls& walls, const Nesting& nesting) {
    BRep_Builder builder;
    const double tolerance = BRep_Tool::Tolerance(face);
    OpenedFace out;
    out.host = face_on(surface, tolerance, face.Orientation());
    for (const RegionRims& rims : walls.rims)
        out.islands.resize(out.islands.size() + rims.holes.size());
    for (TopoDS_Face& island : out.islands)
        island = face_on(surface, tolerance, face.Orientation());
    for (TopoDS_Iterator wire(face); wire.More(); wire.Next()) {
        bool moved = false;
        for (const auto& [inner, hole] : nesting.inner_wires)
            if (wire.Value().IsSame(inner)) {
                builder.Add(out.islands[static_cast<std::size_t>(hole)], wire.Value());
                moved = true;
            }
        if (!moved) builder.Add(out.host, wire.Value());
    }
    std::size_t hole = 0;
    for (const RegionRims& rims : walls.rims)
        for (const TopoDS_Wire& wire : rims.holes)
            builder.Add(out.islands[hole++], wire.Reversed());
    for (std::size_t i = 0; i < walls.rims.size(); ++i) {
        const int in = nesting.region_in[i];
        builder.Add(in < 0 ? out.host : out.islands[static_cast<std::size_t>(in)], walls.rims[i].outer.Reversed());
    }
    return out;
}

TopoDS_Shape swap_face(const TopoDS_Shape& solid, const TopoDS_Face& face, const TopoDS_Face& replacement,
                       const std::vector<const std::vector<TopoDS_Face>*>& added) {
    BRep_Builder builder;
    TopoDS_Solid changed;
    builder.MakeSolid(changed);
    for (TopoDS_Iterator shell(solid); shell.More(); shell.Next()) {
        if (shell.Value().ShapeType() != TopAbs_SHELL || !holds(shell.Value(), face)) {
            builder.Add(changed, shell.Value());
            continue;
        }
        // Orientations are as composed, so the new shell is a forward one.
        TopoDS_Shell opened;
        builder.MakeShell(opened);
        for (TopoDS_Iterator item(shell.Value()); item.More(); item.Next())
            builder.Add(opened, item.Value().IsSame(face) ? replacement : item.Value());
        for (const std::vector<TopoDS_Face>* faces : added)
            for (const TopoDS_Face& fresh : *faces)
                builder.Add(opened, fresh);
        opened.Closed(shell.Value().Closed());
        builder.Add(changed, opened);
    }
    return changed;
}

TopoDS_Shape swap_faces(const TopoDS_Shape& solid, const std::array<TopoDS_Face, 2>& faces,
                        const std::array<TopoDS_Face, 2>& replacements, const std::vector<TopoDS_Face>& added) {
    BRep_Builder builder;
    TopoDS_Solid changed;
    builder.MakeSolid(changed);
    TopoDS_Shell joined;
    builder.MakeShell(joined);
    bool closed = true;
    std::vector<TopoDS_Shape> others;
    for (TopoDS_Iterator shell(solid); shell.More(); shell.Next()) {
        if (shell.Value().ShapeType() != TopAbs_SHELL ||
            (!holds(shell.Value(), faces[0]) && !holds(shell.Value(), faces[1]))) {
            others.push_back(shell.Value());
            continue;
        }
        closed = closed && shell.Value().Closed();
        for (TopoDS_Iterator item(shell.Value()); item.More(); item.Next()) {
            const std::size_t which = item.Value().IsSame(faces[0]) ? 0 : item.Value().IsSame(faces[1]) ? 1 : 2;
            builder.Add(joined, which < 2 ? replacements[which] : item.Value());
        }
    }
    for (const TopoDS_Face& face : added)
        builder.Add(joined, face);
    joined.Closed(closed);
    builder.Add(changed, joined);
    for (const TopoDS_Shape& other : others)
        builder.Add(changed, other);
    return changed;
}

TopoDS_Shape swap_many(const TopoDS_Shape& solid, const std::vector<TopoDS_Face>& faces,
                       const std::vector<std::vector<TopoDS_Face>>& replacements,
                       const std::vector<TopoDS_Face>& added) {
    BRep_Builder builder;
    TopoDS_Solid changed;
    builder.MakeSolid(changed);
    for (TopoDS_Iterator shell(solid); shell.More(); shell.Next()) {
        if (shell.Value().ShapeType() != TopAbs_SHELL || !holds(shell.Value(), faces[0])) {
            builder.Add(changed, shell.Value());
            continue;
        }
        TopoDS_Shell opened;
        builder.MakeShell(opened);
        for (TopoDS_Iterator item(shell.Value()); item.More(); item.Next()) {
            const auto at = std::find_if(faces.begin(), faces.end(),
                                         [&](const TopoDS_Face& face) { return item.Value().IsSame(face); });
            if (at == faces.end()) {
                builder.Add(opened, item.Value());
                continue;
            }
            for (const TopoDS_Face& face : replacements[static_cast<std::size_t>(at - faces.begin())])
                builder.Add(opened, face);
        }
        for (const TopoDS_Face& face : added)
            builder.Add(opened, face);
        opened.Closed(shell.Value().Closed());
        builder.Add(changed, opened);
    }
    return changed;
}

TopoDS_Shape with_hollows(const TopoDS_Shape& solid, std::span<const TopoDS_Shell> shells) {
    BRep_Builder builder;
    TopoDS_Solid changed;
    builder.MakeSolid(changed);
    for (TopoDS_Iterator shell(solid); shell.More(); shell.Next())
        builder.Add(changed, shell.Value());
    for (const TopoDS_Shell& shell : shells)
        builder.Add(changed, shell);
    return changed;
}

bool in_one_shell(const TopoDS_Shape& solid, const TopoDS_Face& a, const TopoDS_Face& b) {
    for (TopoDS_Iterator shell(solid); shell.More(); shell.Next())
        if (holds(shell.Value(), a)) return holds(shell.Value(), b);
    return false;
}

TopoDS_Shape replaced(const TopoDS_Shape& shape, const TopoDS_Shape& old, const TopoDS_Shape& by) {
    if (shape.IsSame(old)) return by;
    if (!holds(shape, old)) return shape;
    BRep_Builder builder;
    TopoDS_Compound changed; // a compound solid becomes a compound: its solids no longer share the face
    builder.MakeCompound(changed);
    for (TopoDS_Iterator item(shape); item.More(); item.Next())
        builder.Add(changed, replaced(item.Value(), old, by));
    return changed;
}

} // namespace touchmark::imprint
