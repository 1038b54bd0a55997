// SPDX-License-Identifier: MIT
#pragma once

#include "core/run/rates.h"

#include <vector>

namespace touchmark::run {

/// What one kind of event adds over a run.
struct Share {
    Event event{};
    double events = 0;  ///< in one unit
    double rejects = 0; ///< expected over the run
};

/// What a mark costs over so many units, against the plain part.
struct Forecast {
    std::int64_t units = 0;
    double chance = 0;  ///< that a unit is spoilt by it: 1 - Π (1 - rate)^events
    double rejects = 0; ///< expected
    /// How many there may be when the chance is right: 95 % of runs, binomial.
    Interval rejects_interval;
    double none = 1; ///< chance of not one
    /// How far the chance itself may be off by what the shop has counted, 95 %; absent with planning figures alone,
    /// whose error nobody knows. Fitted apart: G. Y. Zou, W. Huang, X. Zhang, "A note on confidence interval estimation
    /// for a linear function of binomial proportions", Comput. Stat. Data Anal. 53, 2009. Fitted together: all high, or
    /// all low.
    std::optional<Interval> chance_interval;
    double assumed_share = 0; ///< of the expected rejects, what rests on planning figures
    double seconds = 0;       ///< longer a unit
    double hours = 0;         ///< over the run
    std::optional<double> rejects_cost, hours_cost;
    std::vector<Share> shares; ///< the largest first; only of events that there are

    /// Absent where the shop has not said what either costs.
    [[nodiscard]] std::optional<double> cost() const;
};

/// REQUIRES: units >= 0.
[[nodiscard]] Forecast forecast(const print::Extra& extra, const Rates& rates, std::int64_t units);

} // namespace touchmark::run
