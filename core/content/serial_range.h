// SPDX-License-Identifier: MIT
#pragma once

#include "core/content/variables.h"

#include <functional>

namespace touchmark::content {

/// What a digit weighs that stands to the left of `right` (-1: it is the last one).
using DigitWeight = std::function<double(int digit, int right)>;
/// What the first digit weighs besides.
using LeadWeight = std::function<double(int digit)>;

struct Heaviest {
    double weight = 0;
    std::int64_t number = 0;
};
/// The number of the range whose digits together weigh most, the first of those that weigh the same. Digit by digit
/// from the right: those that can stand at a place split the range into ranges of a tenth, of which few differ.
[[nodiscard]] Heaviest heaviest(const Serial& serial, const DigitWeight& weight, const LeadWeight& lead = nullptr);

} // namespace touchmark::content
