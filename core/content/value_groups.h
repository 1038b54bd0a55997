// SPDX-License-Identifier: MIT
#pragma once

#include "core/content/variables.h"

namespace touchmark::content {

/// Variables of one content that vary together, with all that they can be: for worst_case.cpp.
struct ValueGroup {
    struct Candidate {
        std::vector<std::u32string> values; ///< one a name
        std::size_t row = 0;
    };
    std::vector<std::string> names;
    std::optional<Serial> serial;      ///< its numbers instead of candidates
    std::vector<Candidate> candidates; ///< each different, the first unit's first; of a serial that one alone
    bool of_table = false, check = false;
};

struct ValueGroups {
    std::vector<ValueGroup> groups;
    std::optional<std::size_t> empty_row; ///< of the table: a cell in use is empty there
};

/// Of the variables that stand in `parts`, the content's own first unit, and that can be anything else than there.
[[nodiscard]] ValueGroups groups_in(const std::vector<ExpandedPart>& parts, const Variables& variables);

} // namespace touchmark::content
