// SPDX-License-Identifier: MIT
#pragma once

#include "core/fitting/outlook.h"

namespace touchmark::fitting {

// What a fit says, for the window and the command line alike.

/// "0.10 → 0.071 mm", or "stays 0.50 mm".
[[nodiscard]] std::string change_text(const FittedFigure& figure);
/// "95 % from 0.063 to 0.080 mm, 40 rows", or why it is not determined.
[[nodiscard]] std::string grounds_text(const FittedFigure& figure);
/// "0.41 mm (0.38 to 0.45)", "below 0.21 mm", "above 1.2 mm".
[[nodiscard]] std::string seen_text(const SeriesOutcome& series);
/// "Of 14 texts and codes, which the fit did not use, the profile as it was says 9 as you saw them, the fitted one 13."
/// Empty without any.
[[nodiscard]] std::string outlook_text(std::span<const Outlook> all);
/// "D1: came out 1 of 4, by the fitted profile it comes out clean.", one a text or code that it is wrong about.
[[nodiscard]] std::vector<std::string> surprises(std::span<const Outlook> all, std::span<const Item> items);
/// Of the wedge: R², and the share that the surfaces take. Empty without one.
[[nodiscard]] std::string wedge_text(const Fit& fit);
/// Of measured widths. Empty without any.
[[nodiscard]] std::string scatter_text(const Fit& fit);

} // namespace touchmark::fitting
