// SPDX-License-Identifier: MIT
#pragma once

// The check of what direct editing made: the new faces, their edges and how they close, not the untouched rest of the
// solid. It says of them what BRepCheck says, and finds what that lets pass: a face turned round, contours that
// overlap, a mark that comes out on the other side.

#include "core/imprint/triangle_tree.h"

#include <TopLoc_Location.hxx>
#include <TopoDS_Face.hxx>

#include <optional>
#include <span>
#include <string_view>

namespace touchmark::imprint {

/// The solid as it was, to tell whether a point is in its material.
class Material {
public:
    /// `mesh` in the coordinates of `to_mesh` · product; it may be off the solid by `tolerance`. Nothing to ask without
    /// a mesh.
    Material() = default;
    Material(const TriangleTree& mesh, const TopLoc_Location& to_mesh, double tolerance)
        : mesh_(&mesh), to_mesh_(to_mesh.Transformation()), tolerance_(tolerance) {}
    /// nullopt within the tolerance of the surface, or where there is no mesh.
    [[nodiscard]] std::optional<bool> holds(const gp_Pnt& p) const;

private:
    const TriangleTree* mesh_ = nullptr;
    gp_Trsf to_mesh_;
    double tolerance_ = 0;
};

struct Change {
    std::span<const TopoDS_Face> fresh; ///< as they lie in the changed shell
    std::span<const TopoDS_Face> old;   ///< in whose place they stand
    bool cut = true;                    ///< the mark's own vertices are in the material; else outside it
    /// Whether to look for contours of a face that meet or lie the wrong way: of use where the outline and its place on
    /// the face were not looked at before.
    bool contours = true;
};

/// The first fault found, in words; empty when there is none.
[[nodiscard]] std::string_view fault_of(const Change& change, const Material& material);

} // namespace touchmark::imprint
