// SPDX-License-Identifier: MIT
#include "core/content/check_digit.h"

#include <algorithm>
#include <ranges>
#include <vector>

namespace touchmark::content {
namespace {

constexpr std::string_view figures = "0123456789";
constexpr std::string_view characters = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ";

std::string figure(int value) {
    return std::string(1, characters[static_cast<std::size_t>(value)]);
}

/// GS1 General Specifications, 7.9: weights 3 and 1 from the right.
std::string gs1(std::span<const int> values) {
    int sum = 0, weight = 3;
    for (const int value : values | std::views::reverse) {
        sum += weight * value;
        weight = 4 - weight;
    }
    return figure((10 - sum % 10) % 10);
}

/// ISO/IEC 7812-1, Annex B: every second figure from the right doubled, its digits summed.
std::string luhn(std::span<const int> values) {
    int sum = 0;
    bool doubled = true;
    for (const int value : values | std::views::reverse) {
        sum += doubled ? 2 * value / 10 + 2 * value % 10 : value;
        doubled = !doubled;
    }
    return figure((10 - sum % 10) % 10);
}

/// ISO 7064, pure systems: the string with its check character is 1 modulo M in base r.
std::string mod_11_2(std::span<const int> values) {
    int sum = 0;
    for (const int value : values)
        sum = (sum + value) * 2 % 11;
    const int check = (12 - sum) % 11;
    return check == 10 ? "X" : figure(check);
}

/// ISO 7064, hybrid systems of modulus M and M + 1.
int hybrid(std::span<const int> values, int modulus) {
    int product = modulus;
    for (const int value : values) {
        const int sum = (product + value) % modulus;
        product = (sum == 0 ? modulus : sum) * 2 % (modulus + 1);
    }
    return (modulus + 1 - product) % modulus;
}
std::string mod_11_10(std::span<const int> values) {
    return figure(hybrid(values, 10));
}
std::string mod_37_36(std::span<const int> values) {
    return figure(hybrid(values, 36));
}

/// ISO 7064; letters count as two figures, 10 to 35, as ISO 13616 and ISO 17442 have it.
std::string mod_97_10(std::span<const int> values) {
    int rest = 0;
    for (const int value : values)
        rest = (rest * (value > 9 ? 100 : 10) + value) % 97;
    const int check = 98 - rest * 100 % 97;
    return figure(check / 10) + figure(check % 10);
}

constexpr CheckSchemeRow table[] = {
    {CheckScheme::gs1_mod10, "gs1_mod10", "GS1 modulo 10", "GS1 General Specifications, 7.9", "figures", figures, 1,
     false, gs1},
    {CheckScheme::luhn, "luhn", "Luhn", "ISO/IEC 7812-1, Annex B", "figures", figures, 1, false, luhn},
    {CheckScheme::mod_11_2, "mod_11_2", "ISO 7064 MOD 11-2", "ISO/IEC 7064", "figures", "0123456789X", 1, false,
     mod_11_2},
    {CheckScheme::mod_11_10, "mod_11_10", "ISO 7064 MOD 11-10", "ISO/IEC 7064", "figures", figures, 1, false,
     mod_11_10},
    {CheckScheme::mod_37_36, "mod_37_36", "ISO 7064 MOD 37-36", "ISO/IEC 7064", "figures and letters", characters, 1,
     true, mod_37_36},
    {CheckScheme::mod_97_10,
     "mod_97_10",
     "ISO 7064 MOD 97-10",
     "ISO/IEC 7064",
     "figures and letters",
     {},
     2,
     true,
     mod_97_10},
};

bool is_separator(char c) {
    return std::string_view(" -./:_").find(c) != std::string_view::npos;
}

} // namespace

std::span<const CheckSchemeRow> check_schemes() {
    return table;
}

const CheckSchemeRow& row_of(CheckScheme scheme) {
    return *std::ranges::find(table, scheme, &CheckSchemeRow::scheme);
}

Result<std::string> check_digit(CheckScheme scheme, std::string_view text) {
    const CheckSchemeRow& row = row_of(scheme);
    std::vector<int> values;
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (is_separator(text[i])) continue;
        const char c = text[i] >= 'a' && text[i] <= 'z' ? static_cast<char>(text[i] - 'a' + 'A') : text[i];
        const auto value = characters.find(c);
        if (value == std::string_view::npos || (value > 9 && !row.letters)) {
            std::size_t end = i + 1;
            while (end < text.size() && (static_cast<unsigned char>(text[end]) & 0xc0) == 0x80)
                ++end;
            return fail("content.check_digit",
                        std::string(row.title) + " takes " + std::string(row.takes) + "; \"" + std::string(text) +
                            "\" has \"" + std::string(text.substr(i, end - i)) + "\".",
                        "Compute it from one variable, or choose another scheme.");
        }
        values.push_back(static_cast<int>(value));
    }
    if (values.empty())
        return fail("content.check_digit", "There is nothing before the check digit to compute it from.",
                    "Put what it checks before it, or name the variable it is of.");
    return row.of(values);
}

} // namespace touchmark::content
