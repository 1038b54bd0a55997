// SPDX-License-Identifier: MIT
#pragma once

#include "core/imprint/clearance.h"

namespace touchmark::imprint {

/// Errors: "imprint.pokes_through", "imprint.blocked", "part.mesh", "cancelled".
[[nodiscard]] Status clear_of_the_rest(const part::Part& part, std::span<const Footprint> marks, const Options& options,
                                       const Progress& progress);

} // namespace touchmark::imprint
