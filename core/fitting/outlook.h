// SPDX-License-Identifier: MIT
#pragma once

#include "core/content/fonts.h"
#include "core/fitting/fit.h"
#include "core/print/printed_mark.h"

namespace touchmark::fitting {

/// A text or code of the sheet, held against what the simulated print says of it. None of them is used for the fit:
/// they show whether it is good for more than what it was fitted to.
struct Outlook {
    std::size_t item = 0, line = 0;
    int printed = 0, came_out = 0;
    print::Verdict base{}, fitted{};

    /// Whether more than half came out, as that verdict has it; at risk goes with anything.
    [[nodiscard]] bool as_seen(print::Verdict verdict) const;
};

/// Prints each of them in simulation with the base's figures and with the fitted ones. Some tenths of a second a code.
/// Errors: those of strip_for() and print_mark(), "cancelled".
[[nodiscard]] Result<std::vector<Outlook>> outlook(const Fit& fit, std::span<const Item> items, const Sheet& sheet,
                                                   const content::FontLibrary& fonts, const Progress& progress);

} // namespace touchmark::fitting
