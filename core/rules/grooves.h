// SPDX-License-Identifier: MIT
#pragma once

#include "core/rules/fixes.h"

namespace touchmark::rules {

/// The modules of a filled code as grooves, as many in each as the process draws clean; nullopt where a module is too
/// small for one, and for what is no matrix code of one colour that is cut in.
[[nodiscard]] std::optional<Fix> grooves_fix(const Context& context, const MarkView& view);

} // namespace touchmark::rules
