// SPDX-License-Identifier: MIT
#pragma once

#include "core/imprint/clearance.h"

namespace touchmark::imprint {

/// `far`: one a mark, used for those that go through. Errors: "imprint.pokes_through", "imprint.blocked",
/// "imprint.overlap", "cancelled".
[[nodiscard]] Status clear_of_the_rest(const part::Part& part, std::span<const Footprint> marks,
                                       const Obstacles& obstacles, std::span<const FarSide> far, const Options& options,
                                       const Progress& progress);

} // namespace touchmark::imprint
