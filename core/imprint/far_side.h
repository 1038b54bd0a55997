// SPDX-License-Identifier: MIT
#pragma once

// Where a mark that goes through its wall comes out, among triangles. Internal to clearance.

#include "core/imprint/clearance.h"
#include "core/imprint/triangle_tree.h"

namespace touchmark::imprint {

/// Errors: "imprint.blocked" (no free side behind it, or the next wall follows too close to tell where to stop).
[[nodiscard]] Result<FarSide> far_side(const Footprint& mark, double mesh_tolerance, const TriangleTree& tree);

} // namespace touchmark::imprint
