// SPDX-License-Identifier: MIT
#pragma once

#include "core/print/field.h"

namespace touchmark::print {

/// For each cell the distance (mm) from its middle to the middle of the nearest cell that is not `marked` (0 in those);
/// cells beyond the edge are not marked. Exact, in linear time: P. Felzenszwalb and D. Huttenlocher, "Distance
/// Transforms of Sampled Functions", Theory of Computing 8, 2012.
[[nodiscard]] Field distances(const Grid& grid, const std::vector<char>& marked);

} // namespace touchmark::print
