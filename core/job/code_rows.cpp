// SPDX-License-Identifier: MIT
#include "core/content/code.h"
#include "core/job/parameter_rows.h"

#include <algorithm>
#include <cmath>

namespace touchmark::job {
namespace {

using Kind = Parameter::Kind;

bool is_code(const content::Content& content) {
    return std::holds_alternative<content::Code>(content);
}
bool is_linear(const content::Content& content) {
    const auto* code = std::get_if<content::Code>(&content);
    return code && content::row_of(code->symbology).linear;
}
bool is_matrix(const content::Content& content) {
    return is_code(content) && !is_linear(content);
}
bool has_levels(const content::Content& content) {
    const auto* code = std::get_if<content::Code>(&content);
    return code && content::row_of(code->symbology).has_levels;
}
bool has_shapes(const content::Content& content) {
    const auto* code = std::get_if<content::Code>(&content);
    return code && (code->symbology == content::Symbology::data_matrix ||
                    code->symbology == content::Symbology::gs1_data_matrix);
}
bool has_sizes(const content::Content& content) {
    const auto* code = std::get_if<content::Code>(&content);
    return code && content::row_of(code->symbology).most_version > 0;
}

content::Code& code_of(Mark& mark) {
    return std::get<content::Code>(mark.content);
}
const content::Code& code_of(const Mark& mark) {
    return std::get<content::Code>(mark.content);
}

std::vector<std::pair<std::string_view, std::string_view>> symbology_choices() {
    std::vector<std::pair<std::string_view, std::string_view>> choices;
    for (const content::SymbologyRow& row : content::symbologies())
        choices.emplace_back(row.key, row.title);
    return choices;
}
void set_symbology(Mark& mark, const Value& value) {
    for (const content::SymbologyRow& row : content::symbologies())
        if (row.key == words(value)) code_of(mark).symbology = row.symbology;
    code_of(mark).version = std::min(code_of(mark).version, content::row_of(code_of(mark).symbology).most_version);
}

constexpr std::string_view levels[] = {"low", "medium", "quartile", "high"};
void set_level(Mark& mark, const Value& value) {
    const auto at = std::ranges::find(levels, words(value)) - std::begin(levels);
    code_of(mark).level = static_cast<content::CorrectionLevel>(at);
}

} // namespace

std::vector<Parameter> code_rows() {
    return {
        {.key = "symbology",
         .option = "--symbology",
         .title = "Symbology",
         .help = "Data Matrix needs the fewest modules for a short message, so its modules print largest.",
         .kind = Kind::choice,
         .standard = std::string("data_matrix"),
         .choices = symbology_choices(),
         .get = [](const Mark& mark) -> Value { return std::string(content::row_of(code_of(mark).symbology).key); },
         .set = set_symbology,
         .had_by = is_code},
        {.key = "module",
         .option = "--module",
         .title = "Module",
         .help = "Width of the smallest square or bar: below what the nozzle draws, the code cannot be read.",
         .kind = Kind::length,
         .unit = "mm",
         .least = 0.1,
         .most = 50,
         .step = 0.1,
         .standard = 0.8,
         .get = [](const Mark& mark) -> Value { return code_of(mark).module.value; },
         .set = [](Mark& mark, const Value& value) { code_of(mark).module = Mm(number(value)); },
         .had_by = is_code},
        {.key = "bar_height",
         .option = "--bar-height",
         .title = "Bar height",
         .help = "Taller bars forgive a scanner that is held askew.",
         .kind = Kind::length,
         .unit = "mm",
         .least = 0.5,
         .most = 200,
         .step = 0.5,
         .standard = 8.0,
         .get = [](const Mark& mark) -> Value { return code_of(mark).bar_height.value; },
         .set = [](Mark& mark, const Value& value) { code_of(mark).bar_height = Mm(number(value)); },
         .had_by = is_linear},
        {.key = "correction",
         .option = "--correction",
         .title = "Correction",
         .help = "How much of the code may be lost and still be read; more needs more modules.",
         .kind = Kind::choice,
         .standard = std::string("medium"),
         .choices = {{"low", "7 %"}, {"medium", "15 %"}, {"quartile", "25 %"}, {"high", "30 %"}},
         .get = [](const Mark& mark) -> Value {
             return std::string(levels[static_cast<std::size_t>(code_of(mark).level)]);
         },
         .set = set_level,
         .had_by = has_levels},
        {.key = "shape",
         .option = "--shape",
         .title = "Shape",
         .help = "A rectangle fits a narrow wall.",
         .kind = Kind::choice,
         .standard = std::string("square"),
         .choices = {{"square", "Square"}, {"rectangle", "Rectangle"}},
         .get = [](const Mark& mark) -> Value {
             return std::string(code_of(mark).rectangular ? "rectangle" : "square");
         },
         .set = [](Mark& mark, const Value& value) { code_of(mark).rectangular = words(value) == "rectangle"; },
         .had_by = has_shapes},
        {.key = "symbol_size",
         .option = "--symbol-size",
         .title = "Symbol size",
         .help = "Number of the size in its standard; 0 takes the smallest that holds the message.",
         .kind = Kind::factor,
         .least = 0,
         .most = 40,
         .step = 1,
         .standard = 0.0,
         .zero = "smallest",
         .get = [](const Mark& mark) -> Value { return static_cast<double>(code_of(mark).version); },
         .set = [](Mark& mark,
                   const Value& value) { code_of(mark).version = static_cast<int>(std::lround(number(value))); },
         .had_by = has_sizes},
        {.key = "marked_modules",
         .option = "--marked-modules",
         .title = "Marked",
         .help = "Which modules are cut or raised; light ones take the free margin with them.",
         .kind = Kind::choice,
         .standard = std::string("dark"),
         .choices = {{"dark", "Dark"}, {"light", "Light"}},
         .get = [](const Mark& mark) -> Value { return std::string(code_of(mark).light_is_mark ? "light" : "dark"); },
         .set = [](Mark& mark, const Value& value) { code_of(mark).light_is_mark = words(value) == "light"; },
         .had_by = is_code},
        {.key = "grooves",
         .option = "--grooves",
         .title = "Grooves",
         .help = "Each marked module as so many grooves side by side: in one colour they are darker than a wide floor.",
         .kind = Kind::factor,
         .least = 0,
         .most = 8,
         .step = 1,
         .standard = 0.0,
         .zero = "filled",
         .get = [](const Mark& mark) -> Value { return static_cast<double>(code_of(mark).grooves); },
         .set = [](Mark& mark,
                   const Value& value) { code_of(mark).grooves = static_cast<int>(std::lround(number(value))); },
         .had_by = is_matrix},
        {.key = "readable_line",
         .option = "--readable-line",
         .title = "Readable line",
         .help = "Cap height of the message in letters beneath the code, for those without a scanner; 0 leaves it out.",
         .kind = Kind::length,
         .unit = "mm",
         .least = 0,
         .most = 100,
         .step = 0.1,
         .standard = 0.0,
         .zero = "none",
         .get = [](const Mark& mark) -> Value { return code_of(mark).lettering.value; },
         .set = [](Mark& mark, const Value& value) { code_of(mark).lettering = Mm(number(value)); },
         .had_by = is_code},
    };
}

} // namespace touchmark::job
