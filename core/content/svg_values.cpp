// SPDX-License-Identifier: MIT
#include "core/content/svg_values.h"

#include <cctype>
#include <charconv>
#include <cmath>
#include <numbers>
#include <span>
#include <string>

namespace touchmark::content::svg {
namespace {

struct Unit {
    std::string_view name;
    double pixels;
};
constexpr Unit units[] = {{"px", 1},         {"mm", 96 / 25.4}, {"cm", 960 / 25.4}, {"in", 96},
                          {"pt", 96.0 / 72}, {"pc", 16},        {"q", 24 / 25.4}};

void skip_space(std::string_view& text) {
    while (!text.empty() && std::isspace(static_cast<unsigned char>(text.front())))
        text.remove_prefix(1);
}

std::optional<double> take_number(std::string_view& text) {
    skip_space(text);
    if (text.starts_with('+')) text.remove_prefix(1);
    double value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc() || !std::isfinite(value)) return std::nullopt;
    text.remove_prefix(static_cast<std::size_t>(end - text.data()));
    return value;
}

/// What one transform does (SVG 2, 8.5); nullopt where it has another number of figures.
std::optional<geometry::Affine> transform_of(std::string_view name, std::span<const double> n) {
    using geometry::Affine;
    constexpr double degree = std::numbers::pi / 180;
    if (name == "matrix" && n.size() == 6) return Affine{n[0], n[2], n[1], n[3], {n[4], n[5]}};
    if (name == "translate" && (n.size() == 1 || n.size() == 2))
        return Affine::translation({n[0], n.size() == 2 ? n[1] : 0});
    if (name == "scale" && (n.size() == 1 || n.size() == 2)) return Affine{n[0], 0, 0, n.size() == 2 ? n[1] : n[0], {}};
    if (name == "rotate" && n.size() == 1) return Affine::rotation(n[0] * degree);
    if (name == "rotate" && n.size() == 3)
        return Affine::translation({n[1], n[2]}) * Affine::rotation(n[0] * degree) *
               Affine::translation({-n[1], -n[2]});
    if (name == "skewX" && n.size() == 1) return Affine{1, std::tan(n[0] * degree), 0, 1, {}};
    if (name == "skewY" && n.size() == 1) return Affine{1, 0, std::tan(n[0] * degree), 1, {}};
    return std::nullopt;
}

void skip_comma(std::string_view& text) {
    skip_space(text);
    if (text.starts_with(',')) text.remove_prefix(1);
    skip_space(text);
}

} // namespace

std::optional<geometry::Affine> parse_transform(std::string_view text) {
    geometry::Affine map;
    if (skip_space(text); text == "none") return map;
    while (!text.empty()) {
        const auto open = text.find('('), close = text.find(')');
        if (open == text.npos || close == text.npos || close < open) return std::nullopt;
        std::string_view name = text.substr(0, open);
        while (!name.empty() && std::isspace(static_cast<unsigned char>(name.back())))
            name.remove_suffix(1);
        const auto numbers = parse_numbers(text.substr(open + 1, close - open - 1));
        const auto one = numbers ? transform_of(name, *numbers) : std::nullopt;
        if (!one) return std::nullopt;
        map = map * *one;
        text.remove_prefix(close + 1);
        skip_comma(text);
    }
    return map;
}

std::optional<std::vector<double>> parse_numbers(std::string_view text) {
    std::vector<double> numbers;
    for (skip_space(text); !text.empty(); skip_space(text)) {
        if (!numbers.empty() && text.starts_with(',')) text.remove_prefix(1);
        const auto number = take_number(text);
        if (!number) return std::nullopt;
        numbers.push_back(*number);
    }
    return numbers;
}

std::optional<double> parse_length(std::string_view text, const LengthContext& context) {
    const auto number = take_number(text);
    if (!number) return std::nullopt;
    std::string unit;
    for (const char c : text)
        if (!std::isspace(static_cast<unsigned char>(c)))
            unit += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    if (unit.empty()) return number;
    if (unit == "%") return *number * context.percent_of / 100;
    if (unit == "em" || unit == "rem") return *number * context.font_size;
    if (unit == "ex") return *number * context.font_size / 2;
    for (const Unit& row : units)
        if (row.name == unit) return *number * row.pixels;
    return std::nullopt;
}

} // namespace touchmark::content::svg
