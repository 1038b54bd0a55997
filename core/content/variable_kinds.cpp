// SPDX-License-Identifier: MIT
#include "core/content/variable_kinds.h"

#include <algorithm>
#include <charconv>

namespace touchmark::content {
namespace {

/// Where the row of a fixed text stands in the table.
std::size_t index_of(TextRole role) {
    return static_cast<std::size_t>(role);
}

std::unexpected<Error> bad(std::string_view name, std::string_view why, std::string_view wanted) {
    return fail("content.variable", "The variable {" + std::string(name) + "} " + std::string(why) + ".",
                std::string(wanted));
}

/// nullopt unless it is a whole number and nothing else.
std::optional<std::int64_t> whole(std::string_view text) {
    std::int64_t value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc() || end != text.data() + text.size() || value < 0) return std::nullopt;
    return value;
}

Result<VariableKind> serial_from(std::string_view name, std::string_view text) {
    const auto wrong = [&] {
        return bad(name, "is no range of serial numbers",
                   "Write serial:0001..0500, or serial:10..990/10 for every tenth.");
    };
    const auto dots = text.find(".."), slash = text.find('/');
    if (dots == std::string_view::npos) return wrong();
    const std::string_view first = text.substr(0, dots), last = text.substr(dots + 2, slash - dots - 2);
    const auto from = whole(first), to = whole(last),
               step = slash == std::string_view::npos ? std::optional<std::int64_t>(1) : whole(text.substr(slash + 1));
    if (!from || !to || !step || *to < *from || *step < 1) return wrong();
    Serial serial{.start = *from, .step = *step, .count = (*to - *from) / *step + 1};
    if (first.size() > 1 && (first.front() == '0' || first.size() == last.size()))
        serial.digits = static_cast<int>(std::min<std::size_t>(first.size(), most_digits + 1));
    return serial;
}

Result<VariableKind> date_from(std::string_view text) {
    const auto at = text.find('@');
    Date date{.day = {}, .pattern = std::string(text.substr(0, at))};
    if (at == std::string_view::npos) return date;
    const auto day = day_from(text.substr(at + 1));
    if (!day) return std::unexpected(day.error());
    date.day = *day;
    return date;
}

Result<VariableKind> check_from(std::string_view name, std::string_view text) {
    const auto at = text.find('@');
    const auto rows = check_schemes();
    const auto row = std::ranges::find(rows, text.substr(0, at), &CheckSchemeRow::key);
    if (row == rows.end()) {
        std::string all;
        for (const CheckSchemeRow& one : rows)
            all += (all.empty() ? "" : ", ") + std::string(one.key);
        return bad(name, "names no scheme of check digits", "There are " + all + ".");
    }
    return CheckDigit{row->scheme, at == std::string_view::npos ? std::string() : std::string(text.substr(at + 1))};
}

Result<VariableKind> kind_from(std::string_view name, std::string_view value) {
    const auto colon = value.find(':');
    const std::string_view kind = colon == std::string_view::npos ? std::string_view() : value.substr(0, colon);
    const std::string_view rest = colon == std::string_view::npos ? value : value.substr(colon + 1);
    if (kind == "serial") return serial_from(name, rest);
    if (kind == "date") return date_from(rest);
    if (kind == "check") return check_from(name, rest);
    if (kind == "column") return Column{std::string(rest)};
    if (kind == "text") return FixedText{TextRole::text, std::string(rest)};
    for (const TextRole role : {TextRole::part, TextRole::revision, TextRole::material, TextRole::lot})
        if (name == variable_kinds()[index_of(role)].key) return FixedText{role, std::string(value)};
    return FixedText{TextRole::text, std::string(value)};
}

} // namespace

std::span<const VariableKindRow> variable_kinds() {
    // The fixed texts first, in the order of TextRole.
    static const std::vector<VariableKindRow> table{
        {"text", "Text", "text", "The same on every part; changed here, it changes wherever it stands.",
         FixedText{TextRole::text, {}}},
        {"part", "Part number", "part", "As the drawing has it.", FixedText{TextRole::part, {}}},
        {"revision", "Revision", "revision", "Of the part's drawing.", FixedText{TextRole::revision, {}}},
        {"material", "Material", "material", "What the part is made of.", FixedText{TextRole::material, {}}},
        {"lot", "Lot", "lot", "The batch that the part belongs to.", FixedText{TextRole::lot, {}}},
        {"date", "Date", "date", "A day, or the day on which the part is made.", Date{}},
        {"serial", "Serial number", "serial", "Another number on every part.",
         Serial{.start = 1, .step = 1, .count = 100, .digits = 4}},
        {"check_digit", "Check digit", "check", "Shows a slip in reading or typing an identification.", CheckDigit{}},
        {"column", "Column of the table", "column", "What the table has for each part.", Column{}}};
    return table;
}

const VariableKindRow& row_of(const VariableKind& kind) {
    const auto* text = std::get_if<FixedText>(&kind);
    constexpr std::size_t texts = 5;
    return variable_kinds()[text ? index_of(text->role) : texts - 1 + kind.index()];
}

const VariableKindRow* find_variable_kind(std::string_view key) {
    const auto rows = variable_kinds();
    const auto row = std::ranges::find(rows, key, &VariableKindRow::key);
    return row == rows.end() ? nullptr : &*row;
}

std::string free_name(const Variables& variables, std::string_view name) {
    std::string free(name);
    for (int number = 2; variables.find(free); ++number)
        free = std::string(name) + std::to_string(number);
    return free;
}

Result<Variable> variable_from(std::string_view name, std::string_view value) {
    auto kind = kind_from(name, value);
    if (!kind) return std::unexpected(kind.error());
    Variable variable{std::string(name), *std::move(kind)};
    if (Status good = check(variable); !good) return std::unexpected(good.error());
    return variable;
}

} // namespace touchmark::content
