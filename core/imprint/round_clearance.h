// SPDX-License-Identifier: MIT
#pragma once

// What lies under or over a footprint on a curved face, among triangles. Internal to clearance.

#include "core/imprint/clearance.h"
#include "core/imprint/triangle_tree.h"

namespace touchmark::imprint {

/// As nearest_wall() on a plane, measured from points of the outline and of what it encloses, at most half a millimetre
/// apart; straight through the material the far side of the mark's own face counts as well.
[[nodiscard]] std::optional<Obstacles::Wall> nearest_wall_round(const Footprint& mark, double mesh_tolerance,
                                                                const TriangleTree& tree, double within,
                                                                std::span<const int> but = {});

/// Height at which the footprint, moved along its normals, first meets a triangle.
[[nodiscard]] std::optional<double> lowest_roof_round(const Footprint& mark, const TriangleTree& tree, double within);

} // namespace touchmark::imprint
