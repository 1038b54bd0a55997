// SPDX-License-Identifier: MIT
#pragma once

#include <BRepAdaptor_Surface.hxx>
#include <gp_Pln.hxx>

#include <optional>

namespace touchmark::part {

/// How far a surface may be off the plane that it is taken for, mm.
inline constexpr double flat_within = 1e-6;

/// The plane of a surface that is flat but not stored as a plane: a B-spline or Bézier patch, or an extrusion, as some
/// systems write everything. Its poles, which enclose it, are within `flat_within` of the plane; ∂u × ∂v is along the
/// plane's normal.
[[nodiscard]] std::optional<gp_Pln> recognised_plane(const BRepAdaptor_Surface& surface);

} // namespace touchmark::part
