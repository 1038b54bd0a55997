// SPDX-License-Identifier: MIT
#pragma once

#include "core/content/value_groups.h"
#include "core/content/worst_case.h"

namespace touchmark::content {

/// Another value than the first unit's for one of the groups.
struct Choice {
    std::size_t group = 0;
    ValueGroup::Candidate candidate;
};
struct WorstLettering {
    Worst what = Worst::widest;
    std::vector<Choice> choices; ///< empty: the first unit is as bad
};

/// The part of worst_cases() that is about letters.
[[nodiscard]] std::vector<WorstLettering> worst_lettering(const std::vector<ExpandedPart>& first,
                                                          const std::vector<ValueGroup>& groups,
                                                          const Measures& measures);

} // namespace touchmark::content
