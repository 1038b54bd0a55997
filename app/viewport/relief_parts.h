// SPDX-License-Identifier: MIT
#pragma once

#include "core/part/part.h"

namespace touchmark::viewport {

/// What imprint::relief gives, taken apart by the order it comes in: lid or roof, then the walls, two triangles for
/// each stretch of the edges, then the floor of a cut, as many triangles as its lid.
struct ReliefParts {
    std::size_t lid = 0;                 ///< triangles of a cut's lid; 0: raised
    std::vector<std::vector<Vec3>> rise; ///< for each point of each edge: up its wall from foot to head
};
[[nodiscard]] ReliefParts parts_of(const part::FaceMesh& relief, bool is_cut);

} // namespace touchmark::viewport
