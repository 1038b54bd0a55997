// SPDX-License-Identifier: MIT
#pragma once

#include "core/geometry/outline.h"

#include <cstdint>
#include <vector>

namespace touchmark::geometry {

/// The medial axis of an outline, inside and outside, as a graph whose arcs run monotonically from narrow to wide.
struct MedialAxis {
    struct Node {
        Vec2 at;
        double radius = 0; ///< distance to the boundary
    };
    /// Between two nodes; each point of it has one nearest boundary point on either side.
    struct Arc {
        std::uint32_t from = 0, to = 0;  ///< nodes
        Vec2 from_a, from_b, to_a, to_b; ///< the nearest boundary points of the two ends
        double from_facing = 0,
               to_facing = 0; ///< cosine of the angle under which the two are seen; -1: opposite each other
        std::uint32_t region_a = 0, region_b = 0;
        bool inside = false; ///< in the material
    };

    std::vector<Node> nodes;
    std::vector<Arc> arcs;
};

/// By the Voronoi diagram of the boundary's segments, curves within `tolerance`.
[[nodiscard]] MedialAxis medial_axis(const Outline& outline, double tolerance);

} // namespace touchmark::geometry
