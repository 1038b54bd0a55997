// SPDX-License-Identifier: MIT
#pragma once

// Planes, cylinders and cones that a file stores as something else: a B-spline or Bézier patch, an extrusion, a surface
// of revolution, one parallel to another; as some systems write everything.

#include <TopoDS_Face.hxx>
#include <gp_Ax3.hxx>
#include <gp_Pln.hxx>

#include <optional>

namespace touchmark::part {

/// How far a surface may be off the plane, cylinder or cone that it is taken for, mm, and its normal off the normal
/// there, radians. What is further off stays what it is: a mark's volume is to be right to a millionth, and its walls
/// begin on the one and are measured on the other.
inline constexpr double taken_within = 1e-6, leaning_within = 1e-4;

/// The plane of a face that is flat but not stored so, in its product's coordinates: the poles, which enclose the
/// surface, are within `taken_within` of it, or all that the face covers is. ∂u × ∂v is along the plane's normal.
[[nodiscard]] std::optional<gp_Pln> recognised_plane(const TopoDS_Face& face);

struct RoundForm {
    /// z along the generators, x towards the surface's first corner; left-handed where ∂u × ∂v points to the axis.
    gp_Ax3 axes;
    double radius = 0;     ///< at the axes' origin
    double semi_angle = 0; ///< 0: a cylinder
};

/// The cylinder or cone that a face lies on, in its product's coordinates, when it is not stored as one: the best fit
/// to points of the whole surface, else of what the face covers, held against many more between these. The same for
/// all faces of one bounded surface. REQUIRES: not recognised_plane().
[[nodiscard]] std::optional<RoundForm> recognised_round(const TopoDS_Face& face);

} // namespace touchmark::part
