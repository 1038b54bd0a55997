// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/units.h"

#include <string>

namespace touchmark {

/// Numbers as a person reads them: as many digits as matter, never in exponent form, a decimal point.
/// 0.3812 → "0.38", 12.345 → "12.3", 120.4 → "120"; negative zero is "0.00". With the unit: "0.38 mm".
[[nodiscard]] std::string number_text(double value);
[[nodiscard]] std::string text_of(Mm value);
[[nodiscard]] std::string text_of(Degrees value);

} // namespace touchmark
