// SPDX-License-Identifier: MIT
#pragma once

#include "core/content/worst_lettering.h"

namespace touchmark::content {

/// The part of worst_cases() that is about the symbol of a code: the values that need the most modules, or that make
/// none. `made`: the content with these values instead of the first unit's.
[[nodiscard]] std::vector<Choice> worst_code(const std::vector<ValueGroup>& groups,
                                             const std::function<Result<Content>(const std::vector<Choice>&)>& made);

} // namespace touchmark::content
