// SPDX-License-Identifier: MIT
#pragma once

#include "core/content/check_digit.h"
#include "core/content/content.h"
#include "core/content/date_format.h"
#include "core/content/placeholder.h"
#include "core/content/table.h"

#include <map>

namespace touchmark::content {

/// What a fixed text is, for people; the value is the same for every unit.
enum class TextRole { text, part, revision, material, lot };
struct FixedText {
    TextRole role = TextRole::text;
    std::string text; ///< one line
    friend bool operator==(const FixedText&, const FixedText&) = default;
};

struct Date {
    std::optional<Day> day; ///< nullopt: the day on which the unit is made
    std::string pattern = "YYYY-MM-DD";
    friend bool operator==(const Date&, const Date&) = default;
};

/// start, start + step …, `count` of them, written with at least `digits` figures.
struct Serial {
    std::int64_t start = 1, step = 1, count = 1;
    int digits = 0;
    friend bool operator==(const Serial&, const Serial&) = default;
    [[nodiscard]] std::int64_t last() const { return start + step * (count - 1); }
    [[nodiscard]] std::string text(std::int64_t number) const;
};
inline constexpr std::int64_t largest_start = 1'000'000'000'000'000, largest_step = 1'000,
                              largest_count = 1'000'000'000;
inline constexpr int most_digits = 18;

/// Of another variable; when that is empty, of the text before it: on its line, or in its GS1 element.
struct CheckDigit {
    CheckScheme scheme = CheckScheme::gs1_mod10;
    std::string of;
    friend bool operator==(const CheckDigit&, const CheckDigit&) = default;
};

/// What stands under that title in the table, one unit a row.
struct Column {
    std::string title;
    friend bool operator==(const Column&, const Column&) = default;
};

using VariableKind = std::variant<FixedText, Date, Serial, CheckDigit, Column>;
struct Variable {
    std::string name; ///< as it stands between braces
    VariableKind kind;
    friend bool operator==(const Variable&, const Variable&) = default;
};

/// All that contents of a job may hold.
struct Variables {
    std::vector<Variable> list;
    TablePtr table; ///< null: none

    [[nodiscard]] const Variable* find(std::string_view name) const;
    [[nodiscard]] bool empty() const { return list.empty() && !table; }
    friend bool operator==(const Variables& a, const Variables& b);
};
inline constexpr std::size_t most_variables = 200;
inline constexpr std::size_t longest_value = 500; ///< bytes, of a fixed text, a pattern, a title

/// Whether the values of one variable, and its name, are in range. Errors: "content.variable", "content.date_format".
[[nodiscard]] Status check(const Variable& variable);

/// One part of a series.
struct Unit {
    std::size_t index = 0; ///< 0 is the first
    Day day = today();     ///< on which it is made
};
/// How many units there are: as many as the shortest of rows in use and serial numbers; 1 when all are the same.
[[nodiscard]] std::size_t unit_count(const Variables& variables);

/// By a variable's name.
using Values = std::map<std::string, std::string, std::less<>>;

// Errors of what follows: "content.variable_unknown", "content.variable_circular", "content.variable_empty" (no text,
// no table, an empty cell), "content.variable_ends" (no such unit), "content.placeholder", "content.check_digit",
// "content.date_format".
/// Of every variable, for a series and its list; a check digit of the text before it has no value of its own.
[[nodiscard]] Result<Values> values_of(const Variables& variables, const Unit& unit);
[[nodiscard]] Result<std::string> value_of(const Variables& variables, std::string_view name, const Unit& unit);
/// The content with what stands for its variables in that unit; a drawing as it is. `instead`: values that take the
/// place of those of the unit; check digits go along.
[[nodiscard]] Result<Content> expanded(const Content& content, const Variables& variables, const Unit& unit,
                                       const Values& instead = {});
/// The same in pieces, those of variables with their names.
struct ExpandedPart {
    std::string name; ///< empty: no variable
    std::string text;
};
[[nodiscard]] Result<std::vector<ExpandedPart>> expanded_parts(const Content& content, const Variables& variables,
                                                               const Unit& unit, const Values& instead = {});
/// The text of lettering, the message of a code; nullptr of a drawing: what variables may stand in.
[[nodiscard]] const std::string* text_with_variables(const Content& content);
[[nodiscard]] std::string* text_with_variables(Content& content);

void add(Digester& digester, const Variables& variables);

} // namespace touchmark::content
