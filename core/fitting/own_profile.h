// SPDX-License-Identifier: MIT
#pragma once

#include "core/fitting/fit.h"
#include "core/process/adjustment.h"

namespace touchmark::fitting {

/// Whether an own profile's limits for strokes and gaps come from the strip too.
enum class Limits {
    stay,     ///< as the base has them
    by_strip, ///< hard where half come out, comfortable where 19 of 20 do, for each series that shows both sides
};

/// What the shop's own profile says differently from its base, each figure with where it comes from.
[[nodiscard]] process::Derivation own_profile(const Fit& fit, std::string title, Limits limits);

} // namespace touchmark::fitting
