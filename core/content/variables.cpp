// SPDX-License-Identifier: MIT
#include "core/content/variables.h"

#include "core/base/overloaded.h"
#include "core/content/code.h"
#include "core/content/utf8.h"

#include <algorithm>

namespace touchmark::content {
namespace {

std::string braced(std::string_view name) {
    return "{" + std::string(name) + "}";
}

bool is_one_line(std::string_view text) {
    return decode_utf8(text) &&
           std::ranges::none_of(text, [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7f; });
}

std::unexpected<Error> out_of_range(const Variable& variable, std::string_view what) {
    return fail("content.variable", "The variable " + braced(variable.name) + " " + std::string(what) + ".");
}

Status check_words(const Variable& variable, const std::string& text, std::string_view what) {
    if (text.size() <= longest_value && is_one_line(text)) return {};
    return out_of_range(variable, "wants a " + std::string(what) + " of one line, 500 bytes at most");
}

Status check_serial(const Variable& variable, const Serial& serial) {
    if (serial.start < 0 || serial.start > largest_start)
        return out_of_range(variable, "starts out of range: from 0 to 10^15");
    if (serial.step < 1 || serial.step > largest_step) return out_of_range(variable, "steps by 1 to 1,000");
    if (serial.count < 1 || serial.count > largest_count)
        return out_of_range(variable, "counts 1 to 1,000,000,000 units");
    if (serial.digits < 0 || serial.digits > most_digits) return out_of_range(variable, "has 0 to 18 figures");
    if (const std::string last = std::to_string(serial.last());
        serial.digits > 0 && last.size() > static_cast<std::size_t>(serial.digits))
        return out_of_range(variable, "ends with " + last + ", which has more than " + std::to_string(serial.digits) +
                                          (serial.digits == 1 ? " figure" : " figures"));
    return {};
}

/// Works out what stands in a text in one unit.
class Expander {
public:
    Expander(const Variables& variables, const Unit& unit, const Values& instead)
        : variables_(variables), unit_(unit), instead_(instead) {}

    /// `before`: what a check digit may be of; null where there is no text around.
    Result<std::string> value(std::string_view name, const std::string* before) {
        if (const auto given = instead_.find(name); given != instead_.end()) return given->second;
        const Variable* variable = variables_.find(name);
        if (!variable) return unknown(name);
        auto found =
            std::visit(Overloaded{[&](const FixedText& text) { return fixed(*variable, text); },
                                  [&](const Date& date) { return this->date(date); },
                                  [&](const Serial& serial) { return this->serial(*variable, serial); },
                                  [&](const CheckDigit& check) { return this->check(*variable, check, before); },
                                  [&](const Column& column) { return cell(*variable, column); }},
                       variable->kind);
        return found;
    }

    Result<std::vector<ExpandedPart>> text(const std::string& text, bool gs1) {
        const auto parts = parts_of(text);
        if (!parts) return std::unexpected(parts.error());
        std::vector<ExpandedPart> expanded;
        std::string all;
        for (const TextPart& part : *parts) {
            expanded.push_back({part.variable ? part.text : std::string(), part.text});
            if (part.variable) {
                const auto start = all.find_last_of(gs1 ? ")]\n" : "\n");
                const std::string before = start == std::string::npos ? all : all.substr(start + 1);
                auto found = value(part.text, &before);
                if (!found) return std::unexpected(found.error());
                expanded.back().text = *std::move(found);
            }
            all += expanded.back().text;
        }
        return expanded;
    }

private:
    [[nodiscard]] std::unexpected<Error> unknown(std::string_view name) const {
        std::string all;
        for (const Variable& one : variables_.list)
            all += (all.empty() ? "" : ", ") + braced(one.name);
        return fail("content.variable_unknown", "There is no variable " + braced(name) + ".",
                    all.empty() ? "Add it to the variables, or write {{ for a brace."
                                : "There are " + all + "; write {{ for a brace.");
    }
    [[nodiscard]] static Result<std::string> fixed(const Variable& variable, const FixedText& text) {
        if (!text.text.empty()) return text.text;
        return fail("content.variable_empty", "The variable " + braced(variable.name) + " has no value yet.",
                    "Enter what it stands for.");
    }
    [[nodiscard]] Result<std::string> date(const Date& date) const {
        return format_day(date.day.value_or(unit_.day), date.pattern);
    }
    [[nodiscard]] Result<std::string> serial(const Variable& variable, const Serial& serial) const {
        if (unit_.index < static_cast<std::size_t>(serial.count))
            return serial.text(serial.start + serial.step * static_cast<std::int64_t>(unit_.index));
        return fail("content.variable_ends",
                    braced(variable.name) + " ends with " + serial.text(serial.last()) + ", its unit " +
                        std::to_string(serial.count) + "; there is no unit " + std::to_string(unit_.index + 1) + ".",
                    "Raise its count.");
    }
    Result<std::string> check(const Variable& variable, const CheckDigit& check, const std::string* before) {
        if (check.of.empty()) {
            if (before) return check_digit(check.scheme, *before);
            return fail("content.check_digit",
                        braced(variable.name) + " is a check digit of the text before it, and here is no text.",
                        "Name the variable that it is of.");
        }
        if (std::ranges::find(open_, variable.name) != open_.end()) {
            std::string circle;
            for (const std::string& name : open_)
                circle += braced(name) + " of ";
            return fail("content.variable_circular",
                        "A check digit cannot be of itself: " + circle + braced(variable.name) + ".",
                        "Let one of them be of something else.");
        }
        open_.push_back(variable.name);
        auto base = value(check.of, nullptr);
        open_.pop_back();
        return base ? check_digit(check.scheme, *base) : base;
    }
    [[nodiscard]] Result<std::string> cell(const Variable& variable, const Column& column) const {
        const TablePtr& table = variables_.table;
        if (!table)
            return fail("content.variable_empty", braced(variable.name) + " is a column, but there is no table.",
                        "Choose a CSV file.");
        const auto at = table->column(column.title);
        if (!at)
            return fail("content.variable_empty",
                        "The table " + table->name() + " has no column \"" + column.title + "\" for " +
                            braced(variable.name) + ".",
                        "Choose one of its columns.");
        if (unit_.index >= table->rows())
            return fail("content.variable_ends", "The table " + table->name() + " has " +
                                                     std::to_string(table->rows()) + " rows; there is no unit " +
                                                     std::to_string(unit_.index + 1) + ".");
        if (const std::string& found = table->cell(unit_.index, *at); !found.empty()) return found;
        return fail("content.variable_empty",
                    "The column \"" + column.title + "\" is empty in row " + std::to_string(unit_.index + 1) +
                        " of the table " + table->name() + ".",
                    "Fill it in and choose the table again.");
    }

    const Variables& variables_;
    const Unit& unit_;
    const Values& instead_;
    std::vector<std::string> open_; ///< check digits being worked out
};

} // namespace

std::string Serial::text(std::int64_t number) const {
    std::string figures = std::to_string(number);
    if (figures.size() < static_cast<std::size_t>(digits))
        figures.insert(0, static_cast<std::size_t>(digits) - figures.size(), '0');
    return figures;
}

const Variable* Variables::find(std::string_view name) const {
    const auto found = std::ranges::find(list, name, &Variable::name);
    return found == list.end() ? nullptr : &*found;
}

bool operator==(const Variables& a, const Variables& b) {
    if (a.list != b.list || !a.table != !b.table) return false;
    return a.table == b.table || (a.table->name() == b.table->name() && a.table->digest() == b.table->digest() &&
                                  a.table->source() == b.table->source());
}

Status check(const Variable& variable) {
    if (!is_variable_name(variable.name) || !decode_utf8(variable.name))
        return fail("content.variable", "A variable cannot be called \"" + variable.name.substr(0, 60) + "\".",
                    "Letters, figures, dashes, dots and underscores make a name, 40 at most.");
    return std::visit(Overloaded{[&](const FixedText& text) { return check_words(variable, text.text, "text"); },
                                 [&](const Date& date) {
                                     if (auto good = check_words(variable, date.pattern, "pattern"); !good) return good;
                                     if (date.day && !date.day->ok())
                                         return Status(out_of_range(variable, "has no such day"));
                                     const auto made =
                                         format_day(date.day.value_or(Day{std::chrono::sys_days{}}), date.pattern);
                                     return made ? Status() : Status(std::unexpected(made.error()));
                                 },
                                 [&](const Serial& serial) { return check_serial(variable, serial); },
                                 [&](const CheckDigit& check) {
                                     return check.of.empty() || is_variable_name(check.of)
                                                ? Status()
                                                : Status(out_of_range(variable, "is of no variable"));
                                 },
                                 [&](const Column& column) { return check_words(variable, column.title, "title"); }},
                      variable.kind);
}

std::size_t unit_count(const Variables& variables) {
    std::optional<std::size_t> least;
    const auto count = [&](std::size_t units) { least = std::min(least.value_or(units), units); };
    for (const Variable& variable : variables.list) {
        if (const auto* serial = std::get_if<Serial>(&variable.kind); serial && serial->count > 1)
            count(static_cast<std::size_t>(serial->count));
        if (std::holds_alternative<Column>(variable.kind) && variables.table) count(variables.table->rows());
    }
    return least.value_or(1);
}

Result<std::string> value_of(const Variables& variables, std::string_view name, const Unit& unit) {
    const Values nothing;
    return Expander(variables, unit, nothing).value(name, nullptr);
}

Result<Values> values_of(const Variables& variables, const Unit& unit) {
    Values values;
    for (const Variable& variable : variables.list) {
        const auto* check = std::get_if<CheckDigit>(&variable.kind);
        if (check && check->of.empty()) continue;
        auto value = value_of(variables, variable.name, unit);
        if (!value) return std::unexpected(value.error());
        values.emplace(variable.name, *std::move(value));
    }
    return values;
}

Result<std::vector<ExpandedPart>> expanded_parts(const Content& content, const Variables& variables, const Unit& unit,
                                                 const Values& instead) {
    const std::string* text = text_with_variables(content);
    if (!text) return std::vector<ExpandedPart>{};
    const auto* code = std::get_if<Code>(&content);
    return Expander(variables, unit, instead).text(*text, code && row_of(code->symbology).gs1);
}

Result<Content> expanded(const Content& content, const Variables& variables, const Unit& unit, const Values& instead) {
    Content made = content;
    std::string* text = text_with_variables(made);
    if (!text || !has_braces(*text)) return made;
    const auto parts = expanded_parts(content, variables, unit, instead);
    if (!parts) return std::unexpected(parts.error());
    text->clear();
    for (const ExpandedPart& part : *parts)
        *text += part.text;
    return made;
}

std::string* text_with_variables(Content& content) {
    if (auto* text = std::get_if<Text>(&content)) return &text->text;
    if (auto* code = std::get_if<Code>(&content)) return &code->message;
    return nullptr;
}
const std::string* text_with_variables(const Content& content) {
    return std::holds_alternative<Art>(content) ? nullptr : &said_by(content);
}

void add(Digester& digester, const Variables& variables) {
    digester.add(variables.list.size()).add(variables.table ? variables.table->digest() : Digest{});
    for (const Variable& variable : variables.list) {
        digester.add(variable.name).add(variable.kind.index());
        std::visit(Overloaded{[&](const FixedText& text) { digester.add(text.text); },
                              [&](const Date& date) {
                                  digester.add(date.pattern).add(date.day ? text_of(*date.day) : std::string());
                              },
                              [&](const Serial& serial) {
                                  digester.add(serial.start).add(serial.step).add(serial.count).add(serial.digits);
                              },
                              [&](const CheckDigit& check) { digester.add(check.scheme).add(check.of); },
                              [&](const Column& column) { digester.add(column.title); }},
                   variable.kind);
    }
}

} // namespace touchmark::content
