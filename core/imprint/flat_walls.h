// SPDX-License-Identifier: MIT
#pragma once

// The faces of a mark on a curved face with a flat floor. Rims are the quintics of round_curve.h and freeform_curve.h;
// seen along the anchor's normal they are the floor's edges, and walls are planes and extrusions of these. A mark that
// is projected has its own outline there, to 1e-9 mm.

#include "core/imprint/planar_walls.h"
#include "core/imprint/round_walls.h"
#include "core/imprint/site.h"

namespace touchmark::imprint {

/// REQUIRES: site.flat. On a cylinder or cone `host` and the regions are as for build_round_walls(); on other faces
/// `host.low` is not used.
[[nodiscard]] Walls build_flat_walls(const Site& site, const RoundHost& host, std::span<const geometry::Region> regions,
                                     std::span<const int> region_in);

/// A closed body with the floor's outline between two heights over the anchor's tangent plane.
[[nodiscard]] TopoDS_Solid build_flat_prism(const Site& site, const geometry::Region& region, double bottom,
                                            double top);

/// What lies between the face and the floor, mm³, from the outline and the surface alone: the integral of the height
/// between them over the face seen along the anchor's normal.
[[nodiscard]] double flat_volume(const Site& site, const geometry::Region& region);

} // namespace touchmark::imprint
