// SPDX-License-Identifier: MIT
#pragma once

// The edges of a flat face as contours in a plane. OpenCASCADE's side: for surface and imprint only.

#include "core/base/result.h"
#include "core/base/vector.h"
#include "core/geometry/outline.h"
#include "core/surface/reading_direction.h"

#include <TopoDS_Face.hxx>
#include <gp_Trsf.hxx>

#include <span>
#include <string_view>
#include <vector>

namespace touchmark::surface {

struct Boundary {
    std::vector<geometry::Contour> contours; ///< as the wires run; curves within `tolerance`
    std::vector<StraightEdge> straight;
};

/// The wires of `face`, carried by `placing`, seen in the plane of `frame`. Edges that the face has on both sides
/// (slits) are left out. Errors: "surface.degenerate" when the edges do not close.
[[nodiscard]] Result<Boundary> boundary_of(const TopoDS_Face& face, const gp_Trsf& placing, const Frame& frame,
                                           double tolerance = 1e-3);
/// Of several faces as one: edges that they share are left out.
[[nodiscard]] Result<Boundary> boundary_of(std::span<const TopoDS_Face> faces, const gp_Trsf& placing,
                                           const Frame& frame, double tolerance = 1e-3);

/// What lies within the contours (even-odd). `face`: how the message calls it. Errors: "surface.degenerate" when
/// nothing does.
[[nodiscard]] Result<geometry::Outline> room_within(std::vector<geometry::Contour> contours,
                                                    std::string_view face = "The face");

} // namespace touchmark::surface
