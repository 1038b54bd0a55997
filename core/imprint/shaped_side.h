// SPDX-License-Identifier: MIT
#pragma once

// A wall along one side of a contour: see shaped_walls.h. Internal to it.

#include "core/imprint/shaped_ring.h"

#include <Geom_Surface.hxx>
#include <TopAbs_Orientation.hxx>

#include <memory>

namespace touchmark::imprint {

/// One face of a band, with the curves of its edges in its parameters.
class SideWall {
public:
    virtual ~SideWall() = default;
    Handle(Geom_Surface) surface;
    TopAbs_Orientation orientation = TopAbs_FORWARD;
    /// Of the side's edge in a ring.
    [[nodiscard]] virtual Handle(Geom2d_Curve) level(const WallLevel& level, double q, double t_from) const = 0;
    /// Of the rise at its start or end.
    [[nodiscard]] virtual Handle(Geom2d_Curve) rise(const Rise& rise, bool at_end) const = 0;
};

/// REQUIRES: all that it is made of outlives it.
[[nodiscard]] std::unique_ptr<SideWall> side_wall(const WallGround& ground, const geometry::InsetSide& side,
                                                  const SideFit& fit, const WallBand& band);

} // namespace touchmark::imprint
