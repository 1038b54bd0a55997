// SPDX-License-Identifier: MIT
#include "core/base/number_text.h"

#include <array>
#include <charconv>
#include <cmath>

namespace touchmark {

std::string number_text(double value) {
    const double size = std::abs(value);
    const int decimals = size < 9.995 ? 2 : size < 99.95 ? 1 : 0;
    std::array<char, 400> buffer{}; // the longest double has 309 digits before the point
    // Not printf: that writes a comma in half of the world's locales.
    const auto end =
        std::to_chars(buffer.data(), buffer.data() + buffer.size(), value, std::chars_format::fixed, decimals);
    std::string text(buffer.data(), end.ptr);
    if (text.front() == '-' && text.find_first_not_of("-0.") == std::string::npos) text.erase(0, 1);
    return text;
}

std::string text_of(Mm value) {
    return number_text(value.value) + " mm";
}
std::string text_of(Degrees value) {
    return number_text(value.value) + "°";
}

} // namespace touchmark
