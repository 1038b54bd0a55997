// SPDX-License-Identifier: MIT
#pragma once

#include "core/run/counts.h"
#include "core/run/rates.h"

namespace touchmark::run {

/// The rates that make a shop's counts likeliest, with their 95 % intervals; events that the counts do not hold keep
/// what `rates` says of them.
///
/// Counts by event: rejected / printed, its interval exact (chance_interval()).
///
/// Counts by lot: a unit is spared by each of its events by itself, so that 1 - p = Π (1 - rate)^events. The likelihood
/// of all lots is raised step by step (A. P. Dempster, N. M. Laird, D. B. Rubin, J. Roy. Stat. Soc. B 39, 1977: which
/// event spoiled a unit is what is missing). An interval is what the likelihood ratio does not reject (S. S. Wilks,
/// 1938), no narrower than the exact one of the rejects that fall to the event. Where the lots are too few or too alike
/// to tell events apart, the rates are multiplied by one factor instead.
///
/// Errors: "run.nothing_counted", "run.counts_not_apart" (the plain part's rejects cannot be told from the marks').
[[nodiscard]] Result<Rates> fitted(const Rates& rates, const Counts& counts);

} // namespace touchmark::run
