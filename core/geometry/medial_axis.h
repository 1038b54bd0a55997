// SPDX-License-Identifier: MIT
#pragma once

#include "core/geometry/outline.h"

#include <cstdint>
#include <vector>

namespace touchmark::geometry {

/// The medial axis of one region, inside and outside, as a graph whose arcs run monotonically from narrow to wide.
struct MedialAxis {
    struct Node {
        Vec2 at;
        double radius = 0; ///< distance to the boundary
    };
    /// Between two nodes; each point of it has one nearest boundary point on either side.
    struct Arc {
        std::uint32_t from = 0, to = 0;  ///< nodes
        Vec2 from_a, from_b, to_a, to_b; ///< the nearest boundary points of the two ends
        /// Cosine of the angle under which the two are seen from the end; -1: opposite each other.
        double from_facing = 0, to_facing = 0;
        bool inside = false; ///< in the material
    };

    std::vector<Node> nodes;
    std::vector<Arc> arcs;
};

enum class Care { quick, exact };

/// By the Voronoi diagram of the polygons' edges; outer counter-clockwise, holes clockwise. `quick` may go wrong where
/// many edges meet at next to one point. Empty when polygons cross.
[[nodiscard]] MedialAxis medial_axis(const std::vector<Polygon>& polygons, Care care);

} // namespace touchmark::geometry
