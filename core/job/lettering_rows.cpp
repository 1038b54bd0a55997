// SPDX-License-Identifier: MIT
#include "core/job/parameter_rows.h"

#include <algorithm>
#include <cmath>

namespace touchmark::job {
namespace {

using Kind = Parameter::Kind;

bool is_lettering(const content::Content& content) {
    return std::holds_alternative<content::Text>(content);
}
content::Text& text_of_mark(Mark& mark) {
    return std::get<content::Text>(mark.content);
}
const content::Text& text_of_mark(const Mark& mark) {
    return std::get<content::Text>(mark.content);
}

bool is_fitted(const Mark& mark, content::FitBy by) {
    const content::Text& text = text_of_mark(mark);
    return text.fit_width.value > 0 && text.fit == by;
}

/// Written one way, with the weight where it belongs. What cannot be read stays, for the content's error to say so.
void set_axes(Mark& mark, const Value& value) {
    content::Text& text = text_of_mark(mark);
    text.axes = words(value);
    auto settings = content::axis_settings(text.axes);
    if (!settings) return;
    const auto weight = std::ranges::find(*settings, "wght", &content::AxisSetting::tag);
    if (weight != settings->end()) {
        text.weight = static_cast<int>(std::lround(std::clamp(weight->value, 1.0, 1000.0)));
        settings->erase(weight);
    }
    text.axes = content::text_of(*settings);
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

} // namespace

std::vector<Parameter> lettering_rows() {
    return {
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
         .set = [](Mark& mark, const Value& value) { text_of_mark(mark).cap_height = Mm(number(value)); },
         .had_by = is_lettering,
         .shown_for = [](const Mark& mark,
                         std::optional<part::FaceKind>) { return !is_fitted(mark, content::FitBy::size); }},
        {.key = "fit_width",
         .option = "--fit-width",
         .title = "Fit to width",
         .help = "Sets the widest line to this width, on an arc along the baseline, by its size or by its letter "
                 "spacing; 0 leaves the text as wide as it comes.",
         .kind = Kind::length,
         .unit = "mm",
         .least = 0,
         .most = 5000,
         .step = 0.5,
         .standard = 0.0,
         .zero = "off",
         .get = [](const Mark& mark) -> Value { return text_of_mark(mark).fit_width.value; },
         .set = [](Mark& mark, const Value& value) { text_of_mark(mark).fit_width = Mm(number(value)); },
         .had_by = is_lettering},
        {.key = "fit",
         .option = "--fit",
         .title = "Fitted by",
         .help = "Size makes all of it larger or smaller; spacing moves the letters, from a tenth of the cap height "
                 "closer to a whole one further apart.",
         .kind = Kind::choice,
         .standard = std::string("size"),
         .choices = {{"size", "Size"}, {"spacing", "Spacing"}},
         .get = [](const Mark& mark) -> Value {
             return std::string(text_of_mark(mark).fit == content::FitBy::size ? "size" : "spacing");
         },
         .set =
             [](Mark& mark, const Value& value) {
                 text_of_mark(mark).fit = words(value) == "size" ? content::FitBy::size : content::FitBy::spacing;
             },
         .had_by = is_lettering,
         .shown_for = [](const Mark& mark,
                         std::optional<part::FaceKind>) { return text_of_mark(mark).fit_width.value > 0; }},
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
         .set = set_weight,
         .had_by = is_lettering},
        {.key = "family",
         .option = "--font",
         .title = "Font",
         .help = "The typeface; plain ones with even strokes print at a smaller height than those with hairlines.",
         .kind = Kind::family,
         .least = 1,
         .most = 200,
         .standard = std::string(content::default_family),
         .get = [](const Mark& mark) -> Value { return text_of_mark(mark).family; },
         .set = [](Mark& mark, const Value& value) { text_of_mark(mark).family = words(value); },
         .had_by = is_lettering},
        {.key = "axes",
         .option = "--axes",
         .title = "Font axes",
         .help =
             "What a variable font can be set to beside its weight, by the axes' tags: \"wdth=85\" makes it narrower, "
             "\"slnt=-8\" slants it.",
         .kind = Kind::line,
         .least = 0,
         .most = 200,
         .standard = std::string(),
         .get = [](const Mark& mark) -> Value { return text_of_mark(mark).axes; },
         .set = set_axes,
         .had_by = is_lettering},
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
         .set = [](Mark& mark, const Value& value) { text_of_mark(mark).letter_spacing = Mm(number(value)); },
         .had_by = is_lettering,
         .shown_for = [](const Mark& mark,
                         std::optional<part::FaceKind>) { return !is_fitted(mark, content::FitBy::spacing); }},
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
         .set = [](Mark& mark, const Value& value) { text_of_mark(mark).line_spacing = number(value); },
         .had_by = is_lettering},
        {.key = "align",
         .option = "--align",
         .title = "Alignment",
         .help = "Where lines of different length stand to each other; without effect on how they print.",
         .kind = Kind::choice,
         .standard = std::string("centre"),
         .choices = {{"left", "Left"}, {"centre", "Centre"}, {"right", "Right"}},
         .get = get_align,
         .set = set_align,
         .had_by = is_lettering},
        {.key = "heavier",
         .option = "--heavier",
         .title = "Heavier by",
         .help = "Added to the width of every stroke where the font offers no weight that prints; negative thins.",
         .kind = Kind::length,
         .unit = "mm",
         .least = -5,
         .most = 10,
         .step = 0.05,
         .standard = 0.0,
         .get = [](const Mark& mark) -> Value { return text_of_mark(mark).heavier.value; },
         .set = [](Mark& mark, const Value& value) { text_of_mark(mark).heavier = Mm(number(value)); },
         .had_by = is_lettering},
        {.key = "arc_radius",
         .option = "--arc",
         .title = "Arc radius",
         .help = "Bends the baseline round a circle, for a round face: positive outside it, negative inside; 0 is "
                 "straight.",
         .kind = Kind::length,
         .unit = "mm",
         .least = -5000,
         .most = 5000,
         .step = 1,
         .standard = 0.0,
         .zero = "straight",
         .get = [](const Mark& mark) -> Value { return text_of_mark(mark).arc_radius.value; },
         .set = [](Mark& mark, const Value& value) { text_of_mark(mark).arc_radius = Mm(number(value)); },
         .had_by = is_lettering},
        {.key = "features",
         .option = "--features",
         .title = "Font features",
         .help = "OpenType features by their tags: \"zero\" slashes the zero, \"tnum\" gives all figures one width.",
         .kind = Kind::line,
         .least = 0,
         .most = 200,
         .standard = std::string(),
         .get = [](const Mark& mark) -> Value { return text_of_mark(mark).features; },
         .set = [](Mark& mark, const Value& value) { text_of_mark(mark).features = words(value); },
         .had_by = is_lettering},
    };
}

} // namespace touchmark::job
