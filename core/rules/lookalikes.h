// SPDX-License-Identifier: MIT
#pragma once

#include "core/job/job.h"

#include <string>

namespace touchmark::rules {

/// The characters that stand in the mark or may stand there in another unit: figures, where it holds variables.
[[nodiscard]] std::string characters_at_hand(const job::Mark& mark, const content::Text& said);

} // namespace touchmark::rules
