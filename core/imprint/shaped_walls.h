// SPDX-License-Identifier: MIT
#pragma once

// The faces of a mark on a plane whose walls lean or are rounded at the floor. Walls along lines are planes and
// cylinders, about corners that open cones and tori, all of them exact; along curves they are splines within 1e-7 mm of
// the surface of constant slope, and so are the edges where two walls meet of which one is bent.

#include "core/imprint/planar_walls.h"
#include "core/imprint/wall_shape.h"

namespace touchmark::imprint {

/// `way`: −1 for a cut, 1 for a raised mark. REQUIRES: no inset_fault() up to the shape's reach. Errors:
/// "imprint.failed", where the walls cannot be fitted.
[[nodiscard]] Result<Walls> build_shaped_walls(const Frame& frame, const HostSurface& host,
                                               std::span<const geometry::Region> regions, const WallShape& shape,
                                               double way);

/// A closed body of one region: from so far over the face (under it, where it is raised), with upright walls, to the
/// floor. Errors: as above.
[[nodiscard]] Result<TopoDS_Solid> build_shaped_body(const Frame& frame, const geometry::Region& region,
                                                     const WallShape& shape, double way, double above);

} // namespace touchmark::imprint
