// SPDX-License-Identifier: MIT
#include "core/content/value_groups.h"

#include "core/content/utf8.h"

#include <algorithm>
#include <set>

namespace touchmark::content {
namespace {

std::u32string decoded(std::string_view text) {
    return decode_utf8(text).value_or(std::u32string());
}

/// Days of every weekday, month and week number, in leap years and others, with every figure of a year.
constexpr int first_year = 2000, last_year = 2099;

ValueGroup days_of(const Variable& variable, const Date& date, std::u32string first) {
    using namespace std::chrono;
    ValueGroup group{{variable.name}, {}, {{{std::move(first)}, 0}}};
    std::set<std::string> seen;
    const sys_days end = year(last_year + 1) / January / 1;
    for (sys_days day = year(first_year) / January / 1; day < end; day += days(1))
        if (auto text = format_day(day, date.pattern); text && seen.insert(*text).second)
            group.candidates.push_back({{decoded(*text)}, 0});
    return group;
}

ValueGroup checks_of(const Variable& variable, const CheckDigit& check, std::u32string first) {
    ValueGroup group{{variable.name}, {}, {{{std::move(first)}, 0}}};
    group.check = true;
    const CheckSchemeRow& row = row_of(check.scheme);
    for (const char c : row.outcomes)
        group.candidates.push_back({{std::u32string(1, static_cast<char32_t>(c))}, 0});
    for (int i = 2; row.outcomes.empty() && i <= 98; ++i) // of MOD 97-10
        group.candidates.push_back({{decoded(Serial{.digits = 2}.text(i))}, 0});
    return group;
}

/// Its rows as far as the columns in use tell them apart.
void add_rows(ValueGroups& groups, const std::vector<std::string>& names, const Variables& variables) {
    const TablePtr& table = variables.table;
    ValueGroup group{names, {}, {}};
    group.of_table = true;
    std::vector<std::size_t> columns;
    for (const std::string& name : names)
        columns.push_back(*table->column(std::get<Column>(variables.find(name)->kind).title));
    std::set<std::vector<std::string_view>> seen;
    for (std::size_t row = 0; row < table->rows(); ++row) {
        std::vector<std::string_view> cells;
        for (const std::size_t column : columns)
            cells.emplace_back(table->cell(row, column));
        if (std::ranges::any_of(cells, &std::string_view::empty)) {
            if (!groups.empty_row) groups.empty_row = row;
            continue;
        }
        if (!seen.insert(cells).second) continue;
        ValueGroup::Candidate candidate{{}, row};
        for (const std::string_view cell : cells)
            candidate.values.push_back(decoded(cell));
        group.candidates.push_back(std::move(candidate));
    }
    groups.groups.push_back(std::move(group));
}

/// Of what a check digit is made, itself included.
bool varies(const Variables& variables, std::string_view name, bool others_vary) {
    const Variable* variable = variables.find(name);
    for (std::size_t steps = 0; variable && steps <= variables.list.size(); ++steps) {
        if (const auto* serial = std::get_if<Serial>(&variable->kind)) return serial->count > 1;
        if (const auto* date = std::get_if<Date>(&variable->kind)) return !date->day;
        if (std::holds_alternative<Column>(variable->kind)) return true;
        const auto* check = std::get_if<CheckDigit>(&variable->kind);
        if (!check) return false;
        if (check->of.empty()) return others_vary;
        variable = variables.find(check->of);
    }
    return false;
}

} // namespace

ValueGroups groups_in(const std::vector<ExpandedPart>& parts, const Variables& variables) {
    ValueGroups groups;
    std::vector<std::string> columns, seen;
    const bool others_vary = std::ranges::any_of(
        parts, [&](const ExpandedPart& part) { return !part.name.empty() && varies(variables, part.name, false); });
    for (const ExpandedPart& part : parts) {
        if (part.name.empty() || std::ranges::find(seen, part.name) != seen.end()) continue;
        seen.push_back(part.name);
        if (!varies(variables, part.name, others_vary)) continue;
        const Variable& variable = *variables.find(part.name);
        if (const auto* serial = std::get_if<Serial>(&variable.kind))
            groups.groups.push_back({{part.name}, *serial, {{{decoded(part.text)}, 0}}});
        else if (const auto* date = std::get_if<Date>(&variable.kind))
            groups.groups.push_back(days_of(variable, *date, decoded(part.text)));
        else if (const auto* check = std::get_if<CheckDigit>(&variable.kind))
            groups.groups.push_back(checks_of(variable, *check, decoded(part.text)));
        else
            columns.push_back(part.name);
    }
    if (!columns.empty()) add_rows(groups, columns, variables);
    return groups;
}

} // namespace touchmark::content
