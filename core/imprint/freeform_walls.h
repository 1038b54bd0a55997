// SPDX-License-Identifier: MIT
#pragma once

// The faces of a mark on a sphere, a torus or a freeform face. Floors are the parallel surfaces. Every edge is a
// quintic within `fitted_within` of the surface and an exact Bézier curve in its parameters; walls are ruled.

#include "core/imprint/freeform_curve.h"
#include "core/imprint/planar_walls.h"

#include <TopoDS_Solid.hxx>

namespace touchmark::imprint {

/// The surface of a curved face as its edges' curves refer to it.
[[nodiscard]] HostSurface curved_host(const TopoDS_Face& face);

/// `offset`: the floor's height over the surface. Regions must lie inside the face with no seam or pole in the way.
/// Errors: "imprint.failed", where the surface has no parallel.
[[nodiscard]] Result<Walls> build_freeform_walls(const Site& site, const HostSurface& host,
                                                 std::span<const geometry::Region> regions, double offset);

/// A closed body of one region between two heights over the surface. Errors: as above.
[[nodiscard]] Result<TopoDS_Solid> build_freeform_prism(const Site& site, const geometry::Region& region, double bottom,
                                                        double top);

/// What lies between two heights over the region, from the outline alone: ∫ (h + H h² + K h³ / 3) dA from the one to
/// the other, with the mean and the Gaussian curvature H and K, H positive where the surface bends away from its
/// outward normal (Gray, Tubes, 1.1).
[[nodiscard]] double freeform_volume(const Site& site, const geometry::Region& region, double bottom, double top);

} // namespace touchmark::imprint
