// SPDX-License-Identifier: MIT
#include "core/job/parameter.h"

#include "core/base/json.h"
#include "core/base/number_text.h"
#include "core/job/parameter_rows.h"

#include <algorithm>

namespace touchmark::job {
namespace {

using Kind = Parameter::Kind;

std::unexpected<Error> out_of_range(const Parameter& parameter, std::string what) {
    return fail("job.out_of_range", std::string(parameter.title) + " " + std::move(what));
}

std::string with_unit(const Parameter& parameter, double value) {
    if (parameter.kind == Kind::angle) return text_of(Degrees(value));
    return number_text(value) + (parameter.unit.empty() ? "" : " " + std::string(parameter.unit));
}

Status check_words(const Parameter& parameter, const std::string& value) {
    if (parameter.kind == Kind::choice) {
        std::string all;
        for (const auto& [key, title] : parameter.choices) {
            if (key == value) return {};
            all += (all.empty() ? "" : ", ") + std::string(key);
        }
        return out_of_range(parameter, "cannot be \"" + value.substr(0, 40) + "\"; it is one of " + all + ".");
    }
    if (!json::is_utf8(value)) return out_of_range(parameter, "is not UTF-8.");
    const auto characters = std::count_if(value.begin(), value.end(),
                                          [](char c) { return (static_cast<unsigned char>(c) & 0xC0) != 0x80; });
    if (static_cast<double>(characters) < parameter.least) return out_of_range(parameter, "is empty.");
    if (static_cast<double>(characters) > parameter.most)
        return out_of_range(parameter, "has " + std::to_string(characters) + " characters; at most " +
                                           number_text(parameter.most) + " are possible.");
    return {};
}

} // namespace

std::span<const Parameter> parameters() {
    static const std::vector<Parameter> rows = [] {
        std::vector<Parameter> all;
        for (const auto part : {&content_rows, &style_rows, &lettering_rows, &code_rows, &art_rows, &place_rows})
            std::ranges::move(part(), std::back_inserter(all));
        return all;
    }();
    return rows;
}

const Parameter* parameter(std::string_view key) {
    const auto rows = parameters();
    const auto at = std::find_if(rows.begin(), rows.end(), [&](const Parameter& row) { return row.key == key; });
    return at == rows.end() ? nullptr : &*at;
}

bool has(const Mark& mark, const Parameter& parameter) {
    return !parameter.had_by || parameter.had_by(mark.content);
}

std::string_view size_key(const content::Content& content) {
    constexpr std::string_view keys[] = {"cap_height", "module", "size"}; // in the order of content::Content
    const auto* text = std::get_if<content::Text>(&content);
    if (text && text->fit_width.value > 0 && text->fit == content::FitBy::size) return "fit_width";
    return keys[content.index()];
}

std::string_view key_to_blame(std::string_view error, const content::Content& content) {
    constexpr std::pair<std::string_view, std::string_view> blame[] = {
        {"content.feature", "features"}, {"content.thinned", "heavier"},
        {"content.arc", "arc_radius"},   {"content.fit", "fit_width"},
        {"font.axis", "axes"},           {"font.not_found", "family"},
        {"font.not_readable", "family"}, {"content.code_option", "symbol_size"}};
    for (const auto& [code, key] : blame)
        if (error == code) return key;
    if (error == "content.size") return size_key(content);
    if (error.starts_with("content.art_")) return "drawing";
    const auto* code = std::get_if<content::Code>(&content);
    if (error == "content.code_capacity" && code && code->version > 0) return "symbol_size";
    return error.starts_with("content.") ? "text" : "";
}

Status check_value(const Parameter& parameter, const Value& value) {
    const bool wants_number =
        parameter.kind == Kind::length || parameter.kind == Kind::angle || parameter.kind == Kind::factor;
    if (wants_number != std::holds_alternative<double>(value))
        return fail("job.wrong_kind",
                    std::string(parameter.title) + " must be a " + (wants_number ? "number." : "text."));
    if (!wants_number) return check_words(parameter, words(value));
    const double given = number(value);
    if (!(given >= parameter.least && given <= parameter.most))
        return out_of_range(parameter, "is " + with_unit(parameter, given) + "; it must be from " +
                                           with_unit(parameter, parameter.least) + " to " +
                                           with_unit(parameter, parameter.most) + ".");
    return {};
}

Result<Job> set_parameter(Job job, std::string_view mark, std::string_view key, Value value) {
    const auto at = std::find_if(job.marks.begin(), job.marks.end(), [&](const Mark& m) { return m.id == mark; });
    if (at == job.marks.end()) return fail("job.no_mark", "There is no mark " + std::string(mark) + ".");
    const Parameter* row = parameter(key);
    if (!row) return fail("job.unknown_parameter", "A mark has no value called " + std::string(key) + ".");
    if (!has(*at, *row))
        return fail("job.unknown_parameter",
                    "This mark has no " + std::string(row->title) + "; another kind of content has.");
    if (Status checked = check_value(*row, value); !checked) return std::unexpected(checked.error());
    // The nearest name of a weight in between is no new weight.
    if (row->get(*at) == value) return job;
    row->set(*at, value);
    Result<Mark> mark_now = accepted(std::move(*at));
    if (!mark_now) return std::unexpected(mark_now.error());
    *at = *std::move(mark_now);
    return job;
}

} // namespace touchmark::job
