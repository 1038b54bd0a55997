// SPDX-License-Identifier: MIT
#pragma once

#include "core/content/content.h"

#include <functional>

namespace touchmark::content {

/// What fit-to-width may do to a text.
struct FitLimits {
    double least_height = 0.2, most_height = 500; ///< cap height, mm
    double closer = 0.1, further = 1;             ///< change of letter spacing, in cap heights
};

/// `text` with the cap height, or the letter spacing, at which `width_of` says that it is as wide as it has to be, and
/// nothing left to fit. REQUIRES: text.fit_width > 0; the width does not shrink with height or spacing. Errors:
/// "content.fit" with what the limits allow, those of `width_of`.
[[nodiscard]] Result<Text> fitted(const Text& text, const std::function<Result<double>(const Text&)>& width_of,
                                  const FitLimits& limits = {});

} // namespace touchmark::content
