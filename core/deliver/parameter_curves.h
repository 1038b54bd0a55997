// SPDX-License-Identifier: MIT
#pragma once

#include "core/deliver/entities.h"

#include <Geom2d_Curve.hxx>
#include <Geom_Curve.hxx>
#include <Geom_Surface.hxx>

namespace touchmark::deliver {

/// Whether a reader that is not given the curve in the surface's parameters has to search for it and finds it coarsely,
/// up to 0.2 µm off: on splines, balls and rings always, on cones for all but lines, circles and ellipses. On cylinders
/// it searches too, but what it finds is as good as the curve.
[[nodiscard]] bool is_searched_for(const Geom_Curve& curve, const Handle(Geom_Surface) & surface);

/// Lines, Béziers and B-splines between two parameters, in the surface's parameters by ISO 10303-42: a cone's v along
/// its axis in the file's unit, with its middle within the first round of a surface that closes. `mirrored`: the axes
/// are left-handed, which cannot be written, and turned. 0 for another kind.
[[nodiscard]] int parameter_curve_entity(Entities& out, const Handle(Geom2d_Curve) & curve, double first, double last,
                                         const Handle(Geom_Surface) & surface, bool mirrored);

} // namespace touchmark::deliver
