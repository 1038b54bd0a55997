// SPDX-License-Identifier: MIT
#pragma once

#include "core/deliver/entities.h"

#include <Geom_Curve.hxx>
#include <Geom_Surface.hxx>

namespace touchmark::deliver {

struct SurfaceEntity {
    int id = 0;
    /// The written surface's normal points against the other's: left-handed axes cannot be written.
    bool flipped = false;
};

/// Lines, circles, ellipses, Béziers and B-splines, as the curve without its ends; 0 for another kind.
[[nodiscard]] int curve_entity(Entities& out, const Handle(Geom_Curve) & curve);

/// Planes, cylinders, cones, spheres, tori, Béziers and B-splines, and what is extruded or offset from those; id 0 for
/// another kind. `basis(curve)` and `basis(surface)` give the entities of what a surface is made from.
class SurfaceWriter {
public:
    virtual ~SurfaceWriter() = default;
    [[nodiscard]] SurfaceEntity write(Entities& out, const Handle(Geom_Surface) & surface);

private:
    virtual int curve(const Handle(Geom_Curve) & curve) = 0;
    virtual SurfaceEntity surface(const Handle(Geom_Surface) & surface) = 0;
};

} // namespace touchmark::deliver
