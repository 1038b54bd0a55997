// SPDX-License-Identifier: MIT
#pragma once

// Cylindrical and conical faces as OpenCASCADE has them. For surface and imprint only.

#include "core/base/result.h"
#include "core/geometry/outline.h"
#include "core/surface/unrolling.h"

#include <TopoDS_Face.hxx>
#include <gp_Trsf.hxx>

#include <optional>
#include <span>
#include <vector>

namespace touchmark::surface {

/// The face's surface, carried by `placing`, rolled out about (0, 0); nullopt when it is neither cylinder nor cone,
/// whatever it is stored as.
[[nodiscard]] std::optional<Unrolling> unrolling_of(const TopoDS_Face& face, const gp_Trsf& placing);

/// Where the edges of a round face run, in its parameters; u goes on across the seam. Edges that the face has on both
/// sides (seams) are left out.
struct RoundBoundary {
    std::vector<std::vector<Vec2>> loops; ///< closed: the last point joins the first
    std::vector<std::vector<Vec2>> turns; ///< once round the axis: the last point is the first, a whole turn on
};
[[nodiscard]] Box2 bounds_of(const std::vector<Vec2>& line);
/// Points on the surface, straight between them within `tolerance` mm. Errors: "surface.degenerate".
[[nodiscard]] Result<RoundBoundary> round_boundary(const TopoDS_Face& face, const gp_Trsf& placing,
                                                   const Unrolling& unrolling, double tolerance);
/// Of several faces as one: edges that they share are left out.
[[nodiscard]] Result<RoundBoundary> round_boundary(std::span<const TopoDS_Face> faces, const gp_Trsf& placing,
                                                   const Unrolling& unrolling, double tolerance);

/// The range of u that a face covers.
struct Window {
    double low = 0, high = 0;
};

/// What the boundary encloses, in the mark's mm. Of a closed face only `window`; its sides are straight.
/// Errors: "surface.degenerate".
[[nodiscard]] Result<geometry::Outline> room_of(const RoundBoundary& boundary, const Unrolling& unrolling,
                                                const Window& window);
/// A turn to either side of the unrolling's centre; on a wide cone as far as it does not meet itself.
[[nodiscard]] Window whole_window(const Unrolling& unrolling);

} // namespace touchmark::surface
