// SPDX-License-Identifier: MIT
#pragma once

#include "core/imprint/triangle_tree.h"

namespace touchmark::imprint {

/// Length of the material that a straight line passes from `from` on, mm; `from` lies outside it. Exact on the mesh,
/// which has to be closed. `way`: unit.
[[nodiscard]] double material_along(const TriangleTree& mesh, Vec3 from, Vec3 way);

} // namespace touchmark::imprint
