// SPDX-License-Identifier: MIT
#pragma once

#include "core/rules/rule.h"

namespace touchmark::rules {

/// What the fixes bring besides. A fix after which the same or another mark has a word more severe than the one it is
/// offered for, that was not there before: where that says "will not print", the fix is taken back; where it says "at
/// risk", the fix's title says so. `findings`: all that there is to say about each mark, in the job's order.
/// REQUIRES: context.what_if; context.other_units is as long as context.marks.
void own_up(const Context& context, std::vector<std::vector<Finding>>& findings);

} // namespace touchmark::rules
