// SPDX-License-Identifier: MIT
#include "app/cli/arguments.h"

#include <algorithm>
#include <charconv>
#include <cmath>

namespace touchmark::cli {
namespace {

std::unexpected<Error> usage(std::string message) {
    return fail("cli.usage", std::move(message));
}

} // namespace

Result<Arguments> parse_arguments(std::span<const std::string> words, std::span<const Option> options,
                                  std::span<const std::string> operands) {
    Arguments arguments;
    bool options_ended = false;
    for (std::size_t i = 0; i < words.size(); ++i) {
        const std::string& word = words[i];
        if (options_ended || word.size() < 2 || word[0] != '-') {
            if (arguments.operands_.size() == operands.size()) return usage("Unexpected '" + word + "'.");
            arguments.operands_.push_back(word);
            continue;
        }
        if (word == "--") {
            options_ended = true;
            continue;
        }
        const std::size_t equals = word.starts_with("--") ? word.find('=') : std::string::npos;
        const std::string name = word.substr(0, equals);
        const auto option = std::ranges::find(options, name, &Option::name);
        if (option == options.end()) return usage("There is no option '" + name + "'.");
        if (arguments.values_.contains(name) && !option->repeats) return usage("'" + name + "' is given twice.");
        std::string value;
        if (option->value.empty()) {
            if (equals != std::string::npos) return usage("'" + name + "' takes no value.");
        } else if (equals != std::string::npos) {
            value = word.substr(equals + 1);
        } else {
            if (++i == words.size()) return usage("'" + name + "' needs a value: " + option->value + ".");
            value = words[i];
        }
        if (option->repeats) arguments.repeated_[name].push_back(value);
        arguments.values_.emplace(name, std::move(value));
    }
    if (arguments.operands_.size() < operands.size())
        return usage("The " + operands[arguments.operands_.size()] + " is missing.");
    for (const Option& option : options)
        if (option.required && !arguments.has(option.name))
            return usage("'" + option.name + " " + option.value + "' is missing.");
    return arguments;
}

namespace {

std::string_view trimmed(std::string_view text) {
    const auto first = text.find_first_not_of(" \t");
    if (first == std::string_view::npos) return {};
    return text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

std::optional<double> plain_number(std::string_view text) {
    text = trimmed(text);
    if (text.starts_with('+')) text.remove_prefix(1);
    double value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc() || end != text.data() + text.size() || !std::isfinite(value)) return std::nullopt;
    return value;
}

/// "3", "1/8", "1 1/2"
std::optional<double> number_or_fraction(std::string_view text) {
    text = trimmed(text);
    const auto slash = text.find('/');
    if (slash == std::string_view::npos) return plain_number(text);
    double whole = 0;
    std::string_view above = trimmed(text.substr(0, slash));
    if (const auto space = above.find(' '); space != std::string_view::npos) {
        const auto leading = plain_number(above.substr(0, space));
        if (!leading) return std::nullopt;
        whole = *leading;
        above = above.substr(space + 1);
    }
    const auto numerator = plain_number(above), denominator = plain_number(text.substr(slash + 1));
    if (!numerator || !denominator || *denominator == 0) return std::nullopt;
    const double fraction = *numerator / *denominator;
    return whole < 0 ? whole - fraction : whole + fraction;
}

bool take_suffix(std::string_view& text, std::initializer_list<std::string_view> suffixes) {
    for (const std::string_view suffix : suffixes)
        if (text.ends_with(suffix)) {
            text.remove_suffix(suffix.size());
            return true;
        }
    return false;
}

std::unexpected<Error> bad(std::string_view option, std::string_view text, std::string_view wanted) {
    return usage(std::string(option) + ": '" + std::string(text) + "' is not " + std::string(wanted) + ".");
}

std::vector<std::string_view> split(std::string_view text) {
    std::vector<std::string_view> parts;
    for (;;) {
        const auto comma = text.find(',');
        parts.push_back(text.substr(0, comma));
        if (comma == std::string_view::npos) return parts;
        text.remove_prefix(comma + 1);
    }
}

} // namespace

Result<double> parse_length(std::string_view option, std::string_view text) {
    std::string_view rest = trimmed(text);
    double factor = 1;
    if (take_suffix(rest, {"inches", "inch", "in", "\""}))
        factor = 25.4;
    else
        take_suffix(rest, {"mm"});
    const auto value = number_or_fraction(rest);
    if (!value) return bad(option, text, "a length such as 5, 5.5 mm or 1/8 in");
    return *value * factor;
}

Result<double> parse_angle(std::string_view option, std::string_view text) {
    std::string_view rest = trimmed(text);
    take_suffix(rest, {"degrees", "deg", "°"});
    const auto value = plain_number(rest);
    if (!value) return bad(option, text, "an angle in degrees such as 30 or -12.5");
    return *value;
}

Result<double> parse_number(std::string_view option, std::string_view text) {
    const auto value = plain_number(text);
    if (!value) return bad(option, text, "a number");
    return *value;
}

Result<int> parse_index(std::string_view option, std::string_view text) {
    int value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc() || end != text.data() + text.size() || value < 0)
        return bad(option, text, "a whole number from 0 on");
    return value;
}

Result<Vec2> parse_point(std::string_view option, std::string_view text) {
    const auto parts = split(text);
    if (parts.size() != 2) return bad(option, text, "two lengths such as 10,-2.5");
    const auto u = parse_length(option, parts[0]), v = parse_length(option, parts[1]);
    if (!u || !v) return bad(option, text, "two lengths such as 10,-2.5");
    return Vec2{*u, *v};
}

Result<Vec3> parse_direction(std::string_view option, std::string_view text) {
    const auto parts = split(text);
    std::vector<double> numbers;
    for (const auto part : parts)
        if (const auto number = plain_number(part)) numbers.push_back(*number);
    if (parts.size() != 3 || numbers.size() != 3) return bad(option, text, "a direction such as 0,0,-1");
    const Vec3 direction{numbers[0], numbers[1], numbers[2]};
    const double size = length(direction);
    if (!(size > 0) || !std::isfinite(size)) return bad(option, text, "a direction such as 0,0,-1");
    return direction * (1 / size);
}

std::string unescaped(std::string_view text) {
    std::string out;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const bool pair = text[i] == '\\' && i + 1 < text.size() && (text[i + 1] == 'n' || text[i + 1] == '\\');
        out += pair ? (text[i + 1] == 'n' ? '\n' : '\\') : text[i];
        if (pair) ++i;
    }
    return out;
}

} // namespace touchmark::cli
