// SPDX-License-Identifier: MIT
#pragma once

// Walls and floors put into a solid in place of a piece of its face, without any intersection.

#include "core/imprint/planar_walls.h"

#include <TopoDS_Shape.hxx>
#include <TopoDS_Shell.hxx>

#include <array>

namespace touchmark::imprint {

/// What becomes of the face that a mark lies on.
struct OpenedFace {
    TopoDS_Face host;                 ///< with the mark's outlines as further holes
    std::vector<TopoDS_Face> islands; ///< what remains of it inside the mark: counters
};

/// `walls` must lie strictly inside `face`. `nesting`: for each region the hole it lies in (see nesting_of), -1: none.
/// `inner_wires`: what of the face's own holes lies in a hole of the mark, and in which.
struct Nesting {
    std::vector<int> region_in; ///< index among all holes, in the order of the regions and their holes
    std::vector<std::pair<TopoDS_Wire, int>> inner_wires;
};
[[nodiscard]] OpenedFace open_face(const TopoDS_Face& face, const HostSurface& surface, const Walls& walls,
                                   const Nesting& nesting);

/// The solid with `face` (as it lies in it) replaced and `added` put into the same shell. Everything else is shared
/// with the old solid.
[[nodiscard]] TopoDS_Shape swap_face(const TopoDS_Shape& solid, const TopoDS_Face& face, const TopoDS_Face& replacement,
                                     const std::vector<const std::vector<TopoDS_Face>*>& added);

/// The solid with two of its faces replaced and `added` between them; the shells of the two become one.
[[nodiscard]] TopoDS_Shape swap_faces(const TopoDS_Shape& solid, const std::array<TopoDS_Face, 2>& faces,
                                      const std::array<TopoDS_Face, 2>& replacements,
                                      const std::vector<TopoDS_Face>& added);

/// The solid with faces of one of its shells replaced, each by any number, and `added` put into the same shell.
[[nodiscard]] TopoDS_Shape swap_many(const TopoDS_Shape& solid, const std::vector<TopoDS_Face>& faces,
                                     const std::vector<std::vector<TopoDS_Face>>& replacements,
                                     const std::vector<TopoDS_Face>& added);

/// The solid with these shells, whose faces look into them, as hollows.
[[nodiscard]] TopoDS_Shape with_hollows(const TopoDS_Shape& solid, std::span<const TopoDS_Shell> shells);

[[nodiscard]] bool in_one_shell(const TopoDS_Shape& solid, const TopoDS_Face& a, const TopoDS_Face& b);

/// `shape` with `old` (as it lies in it) replaced, however deep in compounds; shared with the old shape where nothing
/// changed.
[[nodiscard]] TopoDS_Shape replaced(const TopoDS_Shape& shape, const TopoDS_Shape& old, const TopoDS_Shape& by);

} // namespace touchmark::imprint
