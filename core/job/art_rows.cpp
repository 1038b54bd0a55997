// SPDX-License-Identifier: MIT
#include "core/job/parameter_rows.h"

namespace touchmark::job {
namespace {

using Kind = Parameter::Kind;

bool is_art(const content::Content& content) {
    return std::holds_alternative<content::Art>(content);
}
content::Art& art_of(Mark& mark) {
    return std::get<content::Art>(mark.content);
}
const content::Art& art_of(const Mark& mark) {
    return std::get<content::Art>(mark.content);
}

void set_drawing(Mark& mark, const Value& value) {
    auto& drawing = art_of(mark).drawing;
    if (words(value).empty())
        drawing = nullptr;
    else if (!drawing || drawing->source() != words(value))
        drawing = std::make_shared<const content::Drawing>(words(value));
}

} // namespace

std::vector<Parameter> art_rows() {
    return {
        {.key = "drawing",
         .title = "Drawing",
         .help = "The SVG or DXF file itself, held in the job; filled shapes and lines with a width become the mark.",
         .kind = Kind::drawing,
         .least = 0,
         .most = static_cast<double>(content::largest_drawing),
         .standard = std::string(),
         .get = [](const Mark& mark) -> Value {
             return art_of(mark).drawing ? art_of(mark).drawing->source() : std::string();
         },
         .set = set_drawing,
         .had_by = is_art},
        {.key = "scaled_by",
         .option = "--scaled-by",
         .title = "Sized by",
         .help = "Which side of the drawing the size gives; the other one follows in proportion.",
         .kind = Kind::choice,
         .standard = std::string("width"),
         .choices = {{"width", "Width"}, {"height", "Height"}},
         .get = [](const Mark& mark) -> Value {
             return std::string(art_of(mark).scaled_by == content::ScaledBy::height ? "height" : "width");
         },
         .set =
             [](Mark& mark, const Value& value) {
                 art_of(mark).scaled_by =
                     words(value) == "height" ? content::ScaledBy::height : content::ScaledBy::width;
             },
         .had_by = is_art},
        {.key = "size",
         .option = "--size",
         .title = "Size",
         .help = "Of the drawing's outline; its thinnest lines and gaps grow with it and decide whether it prints.",
         .kind = Kind::length,
         .unit = "mm",
         .least = 0.2,
         .most = 500,
         .step = 0.5,
         .standard = 20.0,
         .get = [](const Mark& mark) -> Value { return art_of(mark).size_mm; },
         .set = [](Mark& mark, const Value& value) { art_of(mark).size_mm = number(value); },
         .had_by = is_art},
    };
}

} // namespace touchmark::job
