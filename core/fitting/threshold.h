// SPDX-License-Identifier: MIT
#pragma once

#include "core/fitting/items.h"

#include <optional>

namespace touchmark::fitting {

/// Of things of one size so many were printed, and so many came out.
struct Counted {
    double size = 0;
    int printed = 0, came_out = 0;
};

/// The chance that something comes out: the normal distribution's share below (size - threshold) / spread (the probit
/// of C. I. Bliss, Ann. Appl. Biol. 22, 1935). With the chance `slip` a row says what it says for no reason, so that
/// one wrong entry does not decide (F. A. Wichmann, N. J. Hill, Perception & Psychophysics 63, 2001).
[[nodiscard]] double chance_to_come_out(double size, double threshold, double spread, double slip);
/// Minus twice the logarithm of the likelihood of one row, without what does not depend on the chance.
[[nodiscard]] double deviance_of(const Counted& row, double chance);

/// Where half come out, by the counts alone.
struct Threshold {
    double size = 0;          ///< half come out
    double spread = 0;        ///< standard deviation about it
    double low = 0, high = 0; ///< 95 %, by the likelihood ratio
    bool low_open = false, high_open = false;
    double deviance = 0;
};

/// nullopt without a row that says anything. Where nothing is mixed, all below absent and all above there, the
/// threshold is in the middle between. REQUIRES: sizes > 0.
[[nodiscard]] std::optional<Threshold> threshold_of(std::span<const Counted> rows, double least_spread, double slip);

/// What slips are taken for: assumed, one entry of a hundred.
inline constexpr double usual_slip = 0.01;
/// A threshold is no sharper than this share of a line's width.
inline constexpr double sharpest = 0.03;

} // namespace touchmark::fitting
