// SPDX-License-Identifier: MIT
#include "core/job/parameter_rows.h"

#include <algorithm>
#include <iterator>

namespace touchmark::job {
namespace {

using Kind = Parameter::Kind;

std::string kind_of(const Mark& mark) {
    constexpr const char* keys[] = {"text", "code", "art"}; // in the order of content::Content
    return keys[mark.content.index()];
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

void set_text(Mark& mark, const Value& value) {
    if (auto* text = std::get_if<content::Text>(&mark.content)) text->text = unix_lines(words(value));
    if (auto* code = std::get_if<content::Code>(&mark.content)) code->message = unix_lines(words(value));
    if (auto* art = std::get_if<content::Art>(&mark.content)) art->name = words(value);
}

/// What the mark says stays; the rest starts from the defaults of the new kind.
void set_kind(Mark& mark, const Value& value) {
    std::string said = content::said_by(mark.content);
    if (words(value) == kind_of(mark)) return;
    if (words(value) == "code")
        mark.content = content::Code{.message = std::move(said)};
    else if (words(value) == "art")
        mark.content = content::Art{.name = std::move(said)};
    else
        mark.content = content::Text{.text = std::move(said)};
}

std::vector<std::pair<std::string_view, std::string_view>> mode_choices() {
    std::vector<std::pair<std::string_view, std::string_view>> choices;
    for (const Mode mode : modes)
        choices.emplace_back(key_of(mode), title_of(mode));
    return choices;
}

/// Whose walls and floor have a shape of their own.
bool has_walls(const Mark& mark) {
    return mark.mode == Mode::engrave || mark.mode == Mode::raise || mark.mode == Mode::inlay;
}

std::vector<Parameter> shape_rows() {
    return {
        {.key = "floor",
         .option = "--floor",
         .title = "Floor",
         .help =
             "On a curved face: as deep everywhere, like the face, or flat, square to the middle of the mark and at "
             "least as deep as the depth says.",
         .kind = Kind::choice,
         .standard = std::string("offset"),
         .choices = {{"offset", "Like the face"}, {"flat", "Flat"}},
         .get = [](const Mark& mark) -> Value { return std::string(key_of(mark.floor)); },
         .set = [](Mark& mark, const Value& value) { mark.floor = *floor_from(words(value)); },
         .shown_for =
             [](const Mark& mark, std::optional<part::FaceKind> kind) {
                 return (mark.mode == Mode::engrave || mark.mode == Mode::raise) && kind &&
                        *kind != part::FaceKind::plane;
             }},
        {.key = "draft",
         .option = "--draft",
         .title = "Draft",
         .help = "How far the walls lean, so that the floor is smaller than the opening: a brush and paint get in, "
                 "cleaning gets easier, and what is raised holds better. On flat faces.",
         .kind = Kind::angle,
         .unit = "°",
         .least = 0,
         .most = 60,
         .step = 1,
         .standard = 0.0,
         .get = [](const Mark& mark) -> Value { return mark.draft.value; },
         .set = [](Mark& mark, const Value& value) { mark.draft = Degrees(number(value)); },
         .shown_for = [](const Mark& mark, std::optional<part::FaceKind>) { return has_walls(mark); }},
        {.key = "floor_rounding",
         .option = "--floor-rounding",
         .title = "Floor radius",
         .help = "Radius between wall and floor of a cut: no sharp corner that paint misses and dirt keeps. On flat "
                 "faces.",
         .kind = Kind::length,
         .unit = "mm",
         .least = 0,
         .most = 20,
         .step = 0.05,
         .standard = 0.0,
         .get = [](const Mark& mark) -> Value { return mark.floor_rounding.value; },
         .set = [](Mark& mark, const Value& value) { mark.floor_rounding = Mm(number(value)); },
         .shown_for = [](const Mark& mark,
                         std::optional<part::FaceKind>) { return has_walls(mark) && mark.mode != Mode::raise; }},
    };
}

} // namespace

std::vector<Parameter> content_rows() {
    return {
        {.key = "text",
         .option = "--text",
         .title = "Text",
         .help = "What the mark says; every line of lettering becomes a line on the part. Of line art: its name.",
         .kind = Kind::text,
         .least = 0,
         .most = 8000,
         .standard = std::string(),
         .get = [](const Mark& mark) -> Value { return content::said_by(mark.content); },
         .set = set_text,
         .shown_for =
             [](const Mark& mark, std::optional<part::FaceKind>) {
                 return !std::holds_alternative<content::Art>(mark.content);
             }},
        {.key = "kind",
         .option = "--kind",
         .title = "Written as",
         .help = "Lettering is read by people, a code by a scanner, which needs its modules clean and its margin free; "
                 "line art "
                 "comes from an SVG or DXF file.",
         .kind = Kind::choice,
         .standard = std::string("text"),
         .choices = {{"text", "Text"}, {"code", "Code"}, {"art", "Art"}},
         .get = [](const Mark& mark) -> Value { return kind_of(mark); },
         .set = set_kind},
    };
}

std::vector<Parameter> style_rows() {
    std::vector<Parameter> rows{
        {.key = "mode",
         .option = "--mode",
         .title = "Mode",
         .help = "Cut strokes keep their shape best and cannot break off; raised ones can be felt, but sag on a wall; "
                 "hidden ones are read against a light; an inlay wants a second material.",
         .kind = Kind::choice,
         .standard = std::string("engrave"),
         .choices = mode_choices(),
         .get = [](const Mark& mark) -> Value { return std::string(key_of(mark.mode)); },
         .set = [](Mark& mark, const Value& value) { mark.mode = *mode_from(words(value)); }},
        {.key = "depth",
         .option = "--depth",
         .title = "Depth",
         .help = "How far the mark goes into the part or stands off it: too little does not show, too much weakens a "
                 "wall or sags. Hidden: the height of the void.",
         .kind = Kind::length,
         .unit = "mm",
         .least = 0.05,
         .most = 20,
         .step = 0.05,
         .standard = 0.5,
         .get = [](const Mark& mark) -> Value { return mark.depth.value; },
         .set = [](Mark& mark, const Value& value) { mark.depth = Mm(number(value)); },
         .shown_for = [](const Mark& mark, std::optional<part::FaceKind>) { return mark.mode != Mode::through; }},
        {.key = "cover",
         .option = "--cover",
         .title = "Cover",
         .help = "Material between the face and the hidden void: thin enough for light to come through, thick enough "
                 "to close over it.",
         .kind = Kind::length,
         .unit = "mm",
         .least = 0.05,
         .most = 20,
         .step = 0.05,
         .standard = 0.8,
         .get = [](const Mark& mark) -> Value { return mark.cover.value; },
         .set = [](Mark& mark, const Value& value) { mark.cover = Mm(number(value)); },
         .shown_for = [](const Mark& mark, std::optional<part::FaceKind>) { return mark.mode == Mode::hidden; }},
        {.key = "bridges",
         .option = "--bridges",
         .title = "Bridges",
         .help = "Strips of material that hold the insides of letters when the mark is cut through; without them they "
                 "fall out.",
         .kind = Kind::choice,
         .standard = std::string("none"),
         .choices = {{"none", "None"}, {"auto", "Add"}},
         .get = [](const Mark& mark) -> Value {
             return std::string(mark.bridges == Bridging::automatic ? "auto" : "none");
         },
         .set =
             [](Mark& mark, const Value& value) {
                 mark.bridges = words(value) == "auto" ? Bridging::automatic : Bridging::none;
             },
         .shown_for = [](const Mark& mark, std::optional<part::FaceKind>) { return mark.mode == Mode::through; }},
        {.key = "bridge_width",
         .option = "--bridge-width",
         .title = "Bridge width",
         .help = "Across a bridge: too narrow and it breaks, too wide and letters are hard to read; 0 takes what the "
                 "process needs.",
         .kind = Kind::length,
         .unit = "mm",
         .least = 0,
         .most = 20,
         .step = 0.1,
         .standard = 0.0,
         .get = [](const Mark& mark) -> Value { return mark.bridge_width.value; },
         .set = [](Mark& mark, const Value& value) { mark.bridge_width = Mm(number(value)); },
         .shown_for =
             [](const Mark& mark, std::optional<part::FaceKind>) {
                 return mark.mode == Mode::through && mark.bridges == Bridging::automatic;
             }},
        {.key = "map",
         .option = "--map",
         .title = "Laid on",
         .help = "On a face curved both ways: by lengths along the surface, or straight down along the normal at the "
                 "anchor.",
         .kind = Kind::choice,
         .standard = std::string("wrap"),
         .choices = {{"wrap", "Wrap"}, {"project", "Project"}},
         .get = [](const Mark& mark) -> Value { return std::string(key_of(mark.laying)); },
         .set = [](Mark& mark, const Value& value) { mark.laying = *laying_from(words(value)); },
         .shown_for =
             [](const Mark&, std::optional<part::FaceKind> kind) {
                 return kind == part::FaceKind::sphere || kind == part::FaceKind::torus ||
                        kind == part::FaceKind::freeform;
             }},
    };
    std::ranges::move(shape_rows(), std::back_inserter(rows));
    return rows;
}

std::vector<Parameter> place_rows() {
    return {
        {.key = "reading_distance",
         .option = "--reading-distance",
         .title = "Read from",
         .help = "The distance from which people have to read it: findings then say whether the letters are high "
                 "enough. 0: not said.",
         .kind = Kind::length,
         .unit = "mm",
         .least = 0,
         .most = 20'000,
         .step = 50,
         .standard = 0.0,
         .zero = "not said",
         .get = [](const Mark& mark) -> Value { return mark.reading_distance.value; },
         .set = [](Mark& mark, const Value& value) { mark.reading_distance = Mm(number(value)); },
         .had_by = [](const content::Content& content) { return std::holds_alternative<content::Text>(content); }},
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

} // namespace touchmark::job
