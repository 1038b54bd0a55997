// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/result.h"
#include "core/base/vector.h"

#include <map>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace touchmark::cli {

/// An option of a subcommand, as --help shows it.
struct Option {
    std::string name;  ///< "--height"
    std::string value; ///< "MM"; empty: a flag
    std::string help;
    bool required = false;
    bool repeats = false; ///< may be given more than once
};

class Arguments {
public:
    [[nodiscard]] bool has(std::string_view option) const { return values_.contains(std::string(option)); }
    /// REQUIRES: has(option).
    [[nodiscard]] const std::string& value(std::string_view option) const { return values_.at(std::string(option)); }
    [[nodiscard]] std::string value_or(std::string_view option, std::string fallback) const {
        return has(option) ? value(option) : std::move(fallback);
    }
    /// All that a repeating option was given, in order.
    [[nodiscard]] std::vector<std::string> all(std::string_view option) const {
        const auto found = repeated_.find(option);
        return found == repeated_.end() ? std::vector<std::string>{} : found->second;
    }
    [[nodiscard]] const std::string& operand(std::size_t index) const { return operands_.at(index); }

private:
    friend Result<Arguments> parse_arguments(std::span<const std::string>, std::span<const Option>,
                                             std::span<const std::string>);
    std::map<std::string, std::string> values_;
    std::map<std::string, std::vector<std::string>, std::less<>> repeated_;
    std::vector<std::string> operands_;
};

/// "--name value", "--name=value", flags and operands in any order; "--" ends the options. Every operand is required.
/// Errors: "cli.usage".
[[nodiscard]] Result<Arguments> parse_arguments(std::span<const std::string> words, std::span<const Option> options,
                                                std::span<const std::string> operands);

// Numbers are read with a decimal point in every locale. Errors: "cli.usage", naming the option.
/// "5", "5.5 mm", "0.25 in", "1/8 in", "1 1/2 in" → mm.
[[nodiscard]] Result<double> parse_length(std::string_view option, std::string_view text);
/// "30", "30 deg", "30°".
[[nodiscard]] Result<double> parse_angle(std::string_view option, std::string_view text);
[[nodiscard]] Result<double> parse_number(std::string_view option, std::string_view text);
[[nodiscard]] Result<int> parse_index(std::string_view option, std::string_view text);
/// "U,V": two lengths.
[[nodiscard]] Result<Vec2> parse_point(std::string_view option, std::string_view text);
/// "X,Y,Z", not all zero; made a unit vector.
[[nodiscard]] Result<Vec3> parse_direction(std::string_view option, std::string_view text);
/// A backslash and n is a new line, two backslashes are one.
[[nodiscard]] std::string unescaped(std::string_view text);

} // namespace touchmark::cli
