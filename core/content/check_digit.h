// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/result.h"

#include <span>
#include <string>
#include <string_view>

namespace touchmark::content {

enum class CheckScheme { gs1_mod10, luhn, mod_11_2, mod_11_10, mod_37_36, mod_97_10 };

/// Characters appended to an identification so that a slip in reading or typing it shows.
struct CheckSchemeRow {
    CheckScheme scheme{};
    std::string_view key;      ///< in the job file and on the command line: "mod_37_36"
    std::string_view title;    ///< "ISO 7064 MOD 37-36"
    std::string_view standard; ///< where it is defined
    std::string_view takes;    ///< what it is computed over, for people
    /// What it may come out as, one after the other, `length` characters each.
    std::string_view outcomes;
    std::size_t length = 1;
    bool letters = false;                                     ///< takes A to Z as well as figures
    std::string (*of)(std::span<const int> values) = nullptr; ///< of figures 0–9 and letters 10–35
};
/// Add new schemes here; MOD 97-10 has two characters and lists none of its outcomes.
[[nodiscard]] std::span<const CheckSchemeRow> check_schemes();
[[nodiscard]] const CheckSchemeRow& row_of(CheckScheme scheme);

/// Blanks, dashes, dots, slashes, colons and underscores within `text` do not count; small letters count as capitals.
/// Errors: "content.check_digit": nothing to compute it from, or a character that the scheme does not take.
[[nodiscard]] Result<std::string> check_digit(CheckScheme scheme, std::string_view text);

} // namespace touchmark::content
