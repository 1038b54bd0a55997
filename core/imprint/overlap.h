// SPDX-License-Identifier: MIT
#pragma once

#include "core/imprint/imprint.h"

namespace touchmark::imprint {

/// Two marks on one face that cover the same spot or touch. Errors: "imprint.overlap".
[[nodiscard]] Status apart(std::span<const Footprint> marks);

} // namespace touchmark::imprint
