// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/result.h"

#include <QString>

namespace touchmark::panels {

/// What a number in a field measures; units typed behind a number are converted to mm or degrees.
enum class Measure { length, angle, plain };

/// Arithmetic as a person types it: "4.2", "0,5", "2*3.2", "(1+0.5)*2", "1/8 in", "1 1/2 in", "30 thou", "45°". A unit
/// belongs to the product before it, so "1/8 in" is an eighth of an inch; numbers without a unit are in mm or degrees.
/// Errors: "quantity.malformed".
[[nodiscard]] Result<double> parse_quantity(const QString& typed, Measure measure);

/// For editing: up to four decimals, none that say nothing.
[[nodiscard]] QString editable_number(double value);

} // namespace touchmark::panels
