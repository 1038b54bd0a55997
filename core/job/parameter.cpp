// SPDX-License-Identifier: MIT
#include "core/job/parameter.h"

#include "core/base/json.h"
#include "core/base/number_text.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace touchmark::job {
namespace {

using Kind = Parameter::Kind;

content::Text& text_of_mark(Mark& mark) {
    return std::get<content::Text>(mark.content);
}
const content::Text& text_of_mark(const Mark& mark) {
    return std::get<content::Text>(mark.content);
}

constexpr std::pair<std::string_view, content::Align> alignments[] = {
    {"left", content::Align::left}, {"centre", content::Align::centre}, {"right", content::Align::right}};

Value get_align(const Mark& mark) {
    for (const auto& [key, align] : alignments)
        if (align == text_of_mark(mark).align) return std::string(key);
    return std::string("centre");
}
void set_align(Mark& mark, const Value& value) {
    for (const auto& [key, align] : alignments)
        if (key == std::get<std::string>(value)) text_of_mark(mark).align = align;
}

/// A font's weight may lie between the named ones; the nearest name stands for it.
Value get_weight(const Mark& mark) {
    return std::to_string(std::clamp((text_of_mark(mark).weight + 50) / 100, 1, 9) * 100);
}
void set_weight(Mark& mark, const Value& value) {
    text_of_mark(mark).weight = std::stoi(std::get<std::string>(value));
}

std::string unix_lines(std::string text) {
    std::string lines;
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (text[i] != '\r')
            lines += text[i];
        else if (i + 1 == text.size() || text[i + 1] != '\n')
            lines += '\n';
    }
    return lines;
}

double number(const Value& value) {
    return std::get<double>(value);
}
const std::string& words(const Value& value) {
    return std::get<std::string>(value);
}

std::vector<Parameter> make_content_rows() {
    return {
        {.key = "text",
         .option = "--text",
         .title = "Text",
         .help = "What the mark says; every line of it becomes a line on the part.",
         .kind = Kind::text,
         .least = 0,
         .most = 4000,
         .standard = std::string(),
         .get = [](const Mark& mark) -> Value { return text_of_mark(mark).text; },
         .set = [](Mark& mark, const Value& value) { text_of_mark(mark).text = unix_lines(words(value)); }},
        {.key = "mode",
         .option = "--mode",
         .title = "Mode",
         .help = "Cut strokes keep their shape best and cannot break off; raised ones can be felt, but sag on a wall.",
         .kind = Kind::choice,
         .standard = std::string("engrave"),
         .choices = {{"engrave", "Engrave"}, {"raise", "Raise"}},
         .get = [](const Mark& mark) -> Value { return std::string(key_of(mark.mode)); },
         .set = [](Mark& mark, const Value& value) { mark.mode = *mode_from(words(value)); }},
        {.key = "depth",
         .option = "--depth",
         .title = "Depth",
         .help = "How far the mark goes into the part or stands off it: too little does not show, too much weakens a "
                 "wall or sags.",
         .kind = Kind::length,
         .unit = "mm",
         .least = 0.05,
         .most = 20,
         .step = 0.05,
         .standard = 0.5,
         .get = [](const Mark& mark) -> Value { return mark.depth.value; },
         .set = [](Mark& mark, const Value& value) { mark.depth = Mm(number(value)); }},
        {.key = "cap_height",
         .option = "--height",
         .title = "Cap height",
         .help = "Height of a flat capital such as H; strokes grow with it, so it decides whether they print.",
         .kind = Kind::length,
         .unit = "mm",
         .least = 0.2,
         .most = 500,
         .step = 0.1,
         .standard = 5.0,
         .get = [](const Mark& mark) -> Value { return text_of_mark(mark).cap_height.value; },
         .set = [](Mark& mark, const Value& value) { text_of_mark(mark).cap_height = Mm(number(value)); }},
        {.key = "weight",
         .title = "Weight",
         .help = "Heavier lettering has wider strokes, which print at a smaller height.",
         .kind = Kind::choice,
         .least = 1,
         .most = 1000,
         .standard = std::string("700"),
         .choices = {{"100", "Thin"},
                     {"200", "Extra light"},
                     {"300", "Light"},
                     {"400", "Regular"},
                     {"500", "Medium"},
                     {"600", "Semibold"},
                     {"700", "Bold"},
                     {"800", "Extra bold"},
                     {"900", "Black"}},
         .get = get_weight,
         .set = set_weight},
        {.key = "family",
         .option = "--font",
         .title = "Font",
         .help = "The typeface; plain ones with even strokes print at a smaller height than those with hairlines.",
         .kind = Kind::family,
         .least = 1,
         .most = 200,
         .standard = std::string(content::default_family),
         .get = [](const Mark& mark) -> Value { return text_of_mark(mark).family; },
         .set = [](Mark& mark, const Value& value) { text_of_mark(mark).family = words(value); }},
    };
}

std::vector<Parameter> make_layout_rows() {
    return {
        {.key = "letter_spacing",
         .option = "--letter-spacing",
         .title = "Letter spacing",
         .help = "Added between letters; a little more keeps the gaps from closing when the lines spread.",
         .kind = Kind::length,
         .unit = "mm",
         .least = -20,
         .most = 100,
         .step = 0.05,
         .standard = 0.0,
         .get = [](const Mark& mark) -> Value { return text_of_mark(mark).letter_spacing.value; },
         .set = [](Mark& mark, const Value& value) { text_of_mark(mark).letter_spacing = Mm(number(value)); }},
        {.key = "line_spacing",
         .option = "--line-spacing",
         .title = "Line spacing",
         .help = "From one baseline to the next; too tight, and lines print into each other.",
         .kind = Kind::factor,
         .unit = "× cap height",
         .least = 0.5,
         .most = 10,
         .step = 0.1,
         .standard = 1.6,
         .get = [](const Mark& mark) -> Value { return text_of_mark(mark).line_spacing; },
         .set = [](Mark& mark, const Value& value) { text_of_mark(mark).line_spacing = number(value); }},
        {.key = "align",
         .option = "--align",
         .title = "Alignment",
         .help = "Where lines of different length stand to each other; without effect on how they print.",
         .kind = Kind::choice,
         .standard = std::string("centre"),
         .choices = {{"left", "Left"}, {"centre", "Centre"}, {"right", "Right"}},
         .get = get_align,
         .set = set_align},
        {.key = "at_x",
         .title = "Across",
         .help = "Where the mark's centre lies, to the right of the middle of the face's largest rectangle.",
         .kind = Kind::length,
         .unit = "mm",
         .least = -10'000,
         .most = 10'000,
         .step = 0.1,
         .standard = 0.0,
         .get = [](const Mark& mark) -> Value { return mark.anchor.at.x; },
         .set = [](Mark& mark, const Value& value) { mark.anchor.at.x = number(value); }},
        {.key = "at_y",
         .title = "Up",
         .help = "Where the mark's centre lies, above the middle of the face's largest rectangle.",
         .kind = Kind::length,
         .unit = "mm",
         .least = -10'000,
         .most = 10'000,
         .step = 0.1,
         .standard = 0.0,
         .get = [](const Mark& mark) -> Value { return mark.anchor.at.y; },
         .set = [](Mark& mark, const Value& value) { mark.anchor.at.y = number(value); }},
        {.key = "turn",
         .option = "--turn",
         .title = "Turn",
         .help = "Counter-clockwise on the face; on a side wall level lettering prints the same all along.",
         .kind = Kind::angle,
         .unit = "°",
         .least = -360,
         .most = 360,
         .step = 1,
         .standard = 0.0,
         .get = [](const Mark& mark) -> Value { return mark.anchor.turn.value; },
         .set = [](Mark& mark, const Value& value) { mark.anchor.turn = Degrees(number(value)); }},
    };
}

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
        std::vector<Parameter> all = make_content_rows();
        for (Parameter& row : make_layout_rows())
            all.push_back(std::move(row));
        return all;
    }();
    return rows;
}

const Parameter* parameter(std::string_view key) {
    const auto rows = parameters();
    const auto at = std::find_if(rows.begin(), rows.end(), [&](const Parameter& row) { return row.key == key; });
    return at == rows.end() ? nullptr : &*at;
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
