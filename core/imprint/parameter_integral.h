// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/vector.h"

#include <array>
#include <functional>
#include <vector>

namespace touchmark::imprint {

/// ∫∫ density du dv over what quintics enclose in the parameters of a surface, holes clockwise. Exact to about 1e-9 for
/// a density that is smooth but for the breaks, which ascend.
[[nodiscard]] double integral_over(const std::vector<std::array<Vec2, 6>>& boundary,
                                   const std::vector<double>& breaks_u, const std::vector<double>& breaks_v,
                                   const std::function<double(Vec2)>& density);

} // namespace touchmark::imprint
