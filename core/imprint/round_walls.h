// SPDX-License-Identifier: MIT
#pragma once

// The faces of a mark on a cylinder or a cone. Floors are the parallel surfaces, exact. Edges along a generator are
// lines, edges round a cylinder circles, with plane walls between; all others are quintics within `fitted_within`, with
// ruled walls. In the parameters of the surface every edge is an exact Bézier curve.

#include "core/imprint/planar_walls.h"
#include "core/imprint/round_curve.h"
#include "core/imprint/stored_round.h"
#include "core/surface/unrolling.h"

#include <TopoDS_Solid.hxx>

#include <memory>

namespace touchmark::imprint {

/// A round face of the body, and what of its parameters its edges cover.
struct RoundHost {
    HostSurface surface;                            ///< its plane is not used
    double low = 0;                                 ///< u from here on, a turn at most
    std::shared_ptr<const StoredRound> stored = {}; ///< where the surface has other parameters
    /// Gives a rim its curve on the host, when that is neither the surface's own nor `stored`'s business; see
    /// StoredRound::lay_on().
    std::function<void(const TopoDS_Edge&, const std::function<Vec2(double)>&)> lay_rim = {};
};

/// By how many turns, in radians, an angle is to be moved to lie in the host's own turn.
[[nodiscard]] double turn_into(const RoundHost& host, double u);
/// The same for an edge of a region that lies on the host itself.
[[nodiscard]] double turn_of_edge(const surface::Unrolling& unrolling, const RoundHost& host,
                                  const ParameterCurve& curve);
/// Of all that the curves cover.
[[nodiscard]] double middle_angle(const std::vector<LaidCurve>& curves);

/// `nesting`: as for open_face(). Regions that lie on the host itself have edges within a turn from `host.low`; where
/// they cross the line at that angle, they must have been split there. `offset`: the floor's height over the surface.
[[nodiscard]] Walls build_round_walls(const surface::Unrolling& unrolling, const RoundHost& host,
                                      std::span<const geometry::Region> regions, std::span<const int> region_in,
                                      double offset);

/// A closed body of one region between two heights over the surface.
[[nodiscard]] TopoDS_Solid build_round_prism(const surface::Unrolling& unrolling, const geometry::Region& region,
                                             double bottom, double top);

/// What lies between two heights over the region, from the outline alone: (top − bottom) A + (top² − bottom²) / 2 ∫ dA
/// / ρ, where ρ is the radius of curvature, negative around a bore.
[[nodiscard]] double volume_between(const surface::Unrolling& unrolling, const geometry::Region& region, double bottom,
                                    double top);

} // namespace touchmark::imprint
