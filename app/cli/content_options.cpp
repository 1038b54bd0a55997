// SPDX-License-Identifier: MIT
#include "app/cli/content_options.h"

#include "core/content/templates.h"
#include "core/content/variable_kinds.h"
#include "core/job/parameter.h"
#include "core/job/user_templates.h"
#include "core/job/variables.h"

#include <algorithm>

namespace touchmark::cli {
namespace {

using Kind = job::Parameter::Kind;

std::string value_name(const job::Parameter& parameter) {
    switch (parameter.kind) {
    case Kind::length:
        return "MM";
    case Kind::angle:
        return "DEG";
    case Kind::factor:
        return "FACTOR";
    case Kind::text:
    case Kind::line:
        return "TEXT";
    case Kind::family:
        return "FAMILY";
    case Kind::drawing:
        return "FILE";
    case Kind::choice:
        break;
    }
    std::string keys;
    for (const auto& [key, title] : parameter.choices)
        keys += (keys.empty() ? "" : "|") + std::string(key);
    return keys;
}

Result<job::Value> value_of(const job::Parameter& parameter, std::string_view text) {
    const auto as_value = [](Result<double> number) -> Result<job::Value> {
        if (!number) return std::unexpected(number.error());
        return *number;
    };
    switch (parameter.kind) {
    case Kind::length:
        return as_value(parse_length(parameter.option, text));
    case Kind::angle:
        return as_value(parse_angle(parameter.option, text));
    case Kind::factor:
        return as_value(parse_number(parameter.option, text));
    case Kind::text:
        return unescaped(text);
    case Kind::choice:
    case Kind::family:
    case Kind::drawing:
    case Kind::line:
        break;
    }
    return std::string(text);
}

/// Each says the message and how it is written.
struct CodeOption {
    std::string_view option, symbology, help;
};
constexpr CodeOption code_options[] = {
    {"--data-matrix", "data_matrix", "A Data Matrix with this message instead of lettering."},
    {"--qr", "qr", "A QR code with this message."},
    {"--code128", "code_128", "A Code 128 with this message."},
    {"--gs1", "gs1_data_matrix", "A GS1 DataMatrix of these elements, for instance (01)09521234543213(10)LOT48."},
};

constexpr std::string_view art_option = "--art";

Result<job::Job> with_art(job::Job job, const Arguments& arguments) {
    if (!arguments.has(art_option)) return job;
    auto art = content::art_from_file(arguments.value(art_option));
    if (!art) return std::unexpected(art.error());
    return job::set_content(std::move(job), job.marks.front().id, *std::move(art));
}

/// "NAME=VALUE" in its two halves.
Result<std::pair<std::string, std::string>> named(std::string_view option, const std::string& given) {
    const auto equals = given.find('=');
    if (equals != std::string::npos) return std::pair(given.substr(0, equals), given.substr(equals + 1));
    return fail("cli.usage", "'" + std::string(option) + "' wants NAME=VALUE, not '" + given + "'.");
}

constexpr std::string_view template_option = "--template", set_option = "--set";

Result<job::Job> with_template(job::Job job, const Arguments& arguments) {
    if (!arguments.has(template_option)) {
        if (arguments.has(set_option)) return fail("cli.usage", "'--set' gives a template its values: '--template'.");
        return job;
    }
    const std::string& name = arguments.value(template_option);
    content::TemplateValues values;
    for (const std::string& one : arguments.all(set_option)) {
        const auto halves = named(set_option, one);
        if (!halves) return std::unexpected(halves.error());
        values[halves->first] = halves->second;
    }
    if (!content::find_template(name) && values.empty()) {
        auto own = job::load_template(job::template_folder(), name);
        if (!own) return std::unexpected(own.error());
        return job::set_content(std::move(job), job.marks.front().id, *std::move(own));
    }
    const auto fonts = content::FontLibrary::system();
    if (!fonts) return std::unexpected(fonts.error());
    auto made = content::from_template(name, values, **fonts);
    if (!made) return std::unexpected(made.error());
    return job::set_content(std::move(job), job.marks.front().id, *std::move(made));
}

Result<job::Job> with_code(job::Job job, const Arguments& arguments) {
    for (const CodeOption& row : code_options) {
        if (!arguments.has(row.option)) continue;
        for (const auto& [key, value] : {std::pair<std::string_view, std::string>{"kind", "code"},
                                         {"symbology", std::string(row.symbology)},
                                         {"text", unescaped(arguments.value(row.option))}}) {
            auto edited = job::set_parameter(std::move(job), job.marks.front().id, key, value);
            if (!edited) return edited;
            job = *std::move(edited);
        }
    }
    return job;
}

/// What the mark says comes from exactly one option.
Status says_something(const Arguments& arguments) {
    std::vector<std::string_view> all{"--text"};
    for (const CodeOption& row : code_options)
        all.push_back(row.option);
    all.push_back(art_option);
    all.push_back("--template");
    if (std::ranges::count_if(all, [&](std::string_view option) { return arguments.has(option); }) == 1) return {};
    std::string names;
    for (const std::string_view option : all)
        names += (names.empty() ? "'" : option == all.back() ? " and '" : ", '") + std::string(option) + "'";
    return fail("cli.usage", "A mark takes one of " + names + ".");
}

constexpr std::string_view variable_option = "--variable", table_option = "--table";

Result<job::Job> with_variables(job::Job job, const Arguments& arguments) {
    if (arguments.has(table_option)) {
        auto table = content::Table::read_file(arguments.value(table_option));
        if (!table) return std::unexpected(table.error());
        auto edited = job::set_table(std::move(job), *std::move(table));
        if (!edited) return edited;
        job = *std::move(edited);
    }
    for (const std::string& one : arguments.all(variable_option)) {
        const auto halves = named(variable_option, one);
        if (!halves) return std::unexpected(halves.error());
        auto variable = content::variable_from(halves->first, halves->second);
        if (!variable) return std::unexpected(variable.error());
        auto edited = job::add_variable(std::move(job), *std::move(variable));
        if (!edited) return edited;
        job = *std::move(edited);
    }
    return job;
}

/// Every value that an option of its own sets.
Result<job::Job> with_options(job::Job job, const Arguments& arguments) {
    for (const job::Parameter& parameter : job::parameters()) {
        if (parameter.option.empty() || !arguments.has(parameter.option)) continue;
        auto value = value_of(parameter, arguments.value(parameter.option));
        if (!value) return std::unexpected(value.error());
        auto edited = job::set_parameter(std::move(job), job.marks.front().id, parameter.key, *std::move(value));
        if (!edited) return std::unexpected(edited.error());
        job = *std::move(edited);
    }
    return job;
}

} // namespace

std::vector<Option> content_options(Which which) {
    std::vector<Option> options;
    for (const job::Parameter& parameter : job::parameters()) {
        const bool of_content = parameter.had_by || parameter.key == "text" || parameter.key == "kind";
        if (parameter.option.empty() || (which == Which::content && !of_content)) continue;
        options.push_back({std::string(parameter.option), value_name(parameter), std::string(parameter.help), false});
        if (parameter.key == "text") {
            for (const CodeOption& row : code_options)
                options.push_back({std::string(row.option), "MESSAGE", std::string(row.help), false});
            options.push_back({std::string(art_option), "FILE", "Line art from an SVG or DXF file.", false});
            options.push_back({std::string(template_option), "NAME",
                               "A standing content or one of your own, see touchmark-cli templates.", false});
            options.push_back(
                {std::string(set_option), "NAME=VALUE", "A value of the template; may be repeated.", false, true});
            options.push_back({std::string(variable_option), "NAME=VALUE",
                               "What {NAME} in a text stands for: a text, serial:0001..0500, date:YYMMDD, "
                               "check:SCHEME@NAME or column:TITLE; may be repeated.",
                               false, true});
            options.push_back({std::string(table_option), "FILE.csv", "One part a row, for columns.", false});
        }
        if (parameter.key == "family") {
            options.push_back({"--bold", "", "Bold lettering; the default.", false});
            options.push_back({"--regular", "", "Regular lettering.", false});
        }
    }
    options.push_back({"--save-template", "NAME", "Keeps the content as a template of your own.", false});
    return options;
}

Result<job::Job> with_content(job::Job job, const Arguments& arguments) {
    if (const Status says = says_something(arguments); !says) return std::unexpected(says.error());
    if (arguments.has("--bold") && arguments.has("--regular"))
        return fail("cli.usage", "'--bold' and '--regular' exclude each other.");
    content::Text text;
    if (arguments.has("--regular")) text.weight = 400;
    auto made = with_variables(std::move(job), arguments);
    if (made) made = job::set_content(*std::move(made), made->marks.front().id, std::move(text));
    if (made) made = with_code(*std::move(made), arguments);
    if (made) made = with_art(*std::move(made), arguments);
    if (made) made = with_template(*std::move(made), arguments);
    if (made) made = with_options(*std::move(made), arguments);
    if (made && arguments.has("--save-template")) {
        const Status saved =
            job::save_template(job::template_folder(), arguments.value("--save-template"), made->marks.front().content);
        if (!saved) return std::unexpected(saved.error());
    }
    return made;
}

} // namespace touchmark::cli
