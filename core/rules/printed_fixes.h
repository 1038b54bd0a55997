// SPDX-License-Identifier: MIT
#pragma once

// Fixes that are tried by printing them in simulation. Offered only where the context allows for the time.

#include "core/rules/fixes.h"

namespace touchmark::rules {

/// Appends the fix when its simulated print silences the rule or makes its word less severe; says whether it did.
bool offer_printed(const Fixer& fixer, Finding& finding, Fix fix);
/// The smallest size, within some percent, whose simulated print silences the rule.
void offer_printed_size(const Fixer& fixer, Finding& finding);
/// The next depths, in steps of 0.1 mm up to the comfortable limit.
void offer_printed_depth(const Fixer& fixer, Finding& finding);

/// A share in whole percent: "62 %".
[[nodiscard]] std::string percent(double share);

} // namespace touchmark::rules
