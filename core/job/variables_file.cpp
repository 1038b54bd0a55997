// SPDX-License-Identifier: MIT
#include "core/job/variables_file.h"

#include "core/base/overloaded.h"
#include "core/content/variable_kinds.h"
#include "core/job/variables.h"

#include <algorithm>

namespace touchmark::job {
namespace {

using Out = nlohmann::ordered_json;
using namespace content;

Out write_variable(const Variable& variable) {
    Out out = {{"name", variable.name}, {"kind", row_of(variable.kind).key}};
    std::visit(Overloaded{[&](const FixedText& text) { out["text"] = text.text; },
                          [&](const Date& date) {
                              out["pattern"] = date.pattern;
                              if (date.day) out["day"] = text_of(*date.day);
                          },
                          [&](const Serial& serial) {
                              out["start"] = serial.start;
                              out["step"] = serial.step;
                              out["count"] = serial.count;
                              out["digits"] = serial.digits;
                          },
                          [&](const CheckDigit& check) {
                              out["scheme"] = row_of(check.scheme).key;
                              if (!check.of.empty()) out["of"] = check.of;
                          },
                          [&](const Column& column) { out["column"] = column.title; }},
               variable.kind);
    return out;
}

void read_day(const json::Node& node, Date& date) {
    const auto given = node.find("day");
    if (!given) return;
    const auto day = day_from(given->text());
    if (day)
        date.day = *day;
    else
        given->refuse("must be a day such as 2026-03-14");
}

void read_scheme(const json::Node& node, CheckDigit& check) {
    const std::string key = node["scheme"].text();
    const auto rows = check_schemes();
    const auto row = std::ranges::find(rows, key, &CheckSchemeRow::key);
    if (row != rows.end())
        check.scheme = row->scheme;
    else
        node["scheme"].refuse("is no scheme of check digits that this program knows");
}

Variable read_variable(const json::Node& node) {
    Variable variable{node["name"].text(), FixedText{}};
    const std::string key = node["kind"].text();
    const VariableKindRow* row = find_variable_kind(key);
    if (!row) {
        node["kind"].refuse("is no kind of variable that this program knows");
        return variable;
    }
    variable.kind = row->standard;
    const auto whole = [&](std::string_view member, std::int64_t least, std::int64_t most, std::int64_t standard) {
        const auto given = node.find(member);
        return given ? given->integer(least, most) : standard;
    };
    std::visit(Overloaded{[&](FixedText& text) {
                              node.allow_only({"name", "kind", "text"});
                              text.text = node["text"].text(longest_value);
                          },
                          [&](Date& date) {
                              node.allow_only({"name", "kind", "pattern", "day"});
                              date.pattern = node["pattern"].text(longest_value);
                              read_day(node, date);
                          },
                          [&](Serial& serial) {
                              node.allow_only({"name", "kind", "start", "step", "count", "digits"});
                              serial = {whole("start", 0, largest_start, 1), whole("step", 1, largest_step, 1),
                                        whole("count", 1, largest_count, 1),
                                        static_cast<int>(whole("digits", 0, most_digits, 0))};
                          },
                          [&](CheckDigit& check) {
                              node.allow_only({"name", "kind", "scheme", "of"});
                              read_scheme(node, check);
                              if (const auto of = node.find("of")) check.of = of->text(longest_variable_name);
                          },
                          [&](Column& column) {
                              node.allow_only({"name", "kind", "column"});
                              column.title = node["column"].text(longest_value);
                          }},
               variable.kind);
    return variable;
}

Out text_schema(std::size_t longest, const char* description) {
    return {{"type", "string"}, {"maxLength", longest}, {"description", description}};
}
Out whole_schema(std::int64_t least, std::int64_t most, std::int64_t standard, const char* description) {
    return {{"type", "integer"},
            {"minimum", least},
            {"maximum", most},
            {"default", standard},
            {"description", description}};
}

Out scheme_schema() {
    Out keys = Out::array();
    for (const CheckSchemeRow& row : check_schemes())
        keys.push_back(row.key);
    return {{"enum", keys}, {"description", "How it is computed."}};
}

/// The members that a kind has besides its name; the first of them is required, except of a serial number.
Out members_of(const VariableKind& kind) {
    return std::visit(
        Overloaded{
            [](const FixedText&) -> Out { return {{"text", text_schema(longest_value, "What stands for it.")}}; },
            [](const Date&) -> Out {
                return {{"pattern", text_schema(longest_value, "YYYY YY MM M MMM DD D DDD WW GGGG GG, words 'so'.")},
                        {"day",
                         {{"type", "string"},
                          {"pattern", "^[0-9]{4}-[0-9]{2}-[0-9]{2}$"},
                          {"description", "Absent: the day on which the part is made."}}}};
            },
            [](const Serial&) -> Out {
                return {{"start", whole_schema(0, largest_start, 1, "Of the first part.")},
                        {"step", whole_schema(1, largest_step, 1, "From part to part.")},
                        {"count", whole_schema(1, largest_count, 1, "How many parts.")},
                        {"digits", whole_schema(0, most_digits, 0, "At least; filled up with zeros.")}};
            },
            [](const CheckDigit&) -> Out {
                return {{"scheme", scheme_schema()},
                        {"of", text_schema(longest_variable_name, "A variable; absent: the text before it.")}};
            },
            [](const Column&) -> Out { return {{"column", text_schema(longest_value, "Its title.")}}; }},
        kind);
}

} // namespace

Out write_variables(const Variables& variables) {
    Out out = Out::array();
    for (const Variable& variable : variables.list)
        out.push_back(write_variable(variable));
    return out;
}

Out write_table(const Table& table) {
    return {{"name", table.name()}, {"csv", table.source()}};
}

Variables read_variables(const json::Node& root) {
    Variables variables;
    if (const auto given = root.find(table_key)) {
        given->allow_only({"name", "csv"});
        std::string name = (*given)["name"].text(), csv = (*given)["csv"].text(largest_table);
        if (root.trouble()) return variables;
        auto table = Table::read(std::move(name), std::move(csv));
        if (table)
            variables.table = *std::move(table);
        else
            root.trouble().say_range(std::string(table_key) + ": " + table.error().message);
    }
    if (const auto given = root.find(variables_key)) {
        for (const json::Node& node : given->elements()) {
            if (root.trouble()) return variables;
            variables.list.push_back(read_variable(node));
        }
        if (root.trouble()) return variables;
        if (const Status good = check(variables); !good)
            root.trouble().say_range(std::string(variables_key) + ": " + good.error().message);
    }
    return variables;
}

Out variables_schema() {
    const Out name = {{"type", "string"},
                      {"minLength", 1},
                      {"maxLength", longest_variable_name},
                      {"description", "As it stands between braces in a text."}};
    Out kinds = Out::array();
    for (const VariableKindRow& row : variable_kinds()) {
        Out properties = {{"name", name}, {"kind", {{"const", row.key}}}};
        Out required = {"name", "kind"};
        const Out members = members_of(row.standard);
        properties.update(members);
        if (!std::holds_alternative<Serial>(row.standard)) required.push_back(members.begin().key());
        kinds.push_back({{"title", row.title},
                         {"description", row.help},
                         {"type", "object"},
                         {"additionalProperties", false},
                         {"required", required},
                         {"properties", properties}});
    }
    return {{"type", "array"},
            {"maxItems", most_variables},
            {"description", "What {name} stands for in the texts of marks; {{ is a brace."},
            {"items", {{"oneOf", kinds}}}};
}

Out table_schema() {
    return {{"type", "object"},
            {"additionalProperties", false},
            {"required", {"name", "csv"}},
            {"description", "One part a row: what columns among the variables take."},
            {"properties",
             {{"name", {{"type", "string"}, {"description", "Of the file it came from."}}},
              {"csv", text_schema(largest_table, "Its text by RFC 4180, with a header line.")}}}};
}

} // namespace touchmark::job
