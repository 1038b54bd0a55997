// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>

namespace touchmark::run {

struct Interval {
    double low = 0, high = 0;

    friend bool operator==(const Interval&, const Interval&) = default;
};

inline constexpr double confidence = 0.95; ///< of every interval here

/// The chance behind `rejected` of `of` trials, exact: C. J. Clopper and E. S. Pearson, Biometrika 26, 1934. Without a
/// reject, or without anything else, the bound on the other side is one-sided. `of` need not be whole: millimetres are
/// trials too. REQUIRES: 0 <= rejected <= of, of > 0.
[[nodiscard]] Interval chance_interval(double rejected, double of);

/// Rejects among so many units: the fewest and the most, so that less and more have at most 2.5 % each.
[[nodiscard]] Interval rejects_interval(std::int64_t units, double chance);
[[nodiscard]] double no_reject_chance(std::int64_t units, double chance);

/// How many units without a reject show that the chance is no greater. REQUIRES: 0 < chance < 1.
[[nodiscard]] double clean_units_for(double chance);

} // namespace touchmark::run
