// SPDX-License-Identifier: MIT
#include "core/content/arcs.h"
#include "core/content/dashes.h"
#include "core/content/drawing.h"
#include "core/content/svg_shapes.h"
#include "core/content/svg_style.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace touchmark::content {
namespace {

using namespace svg;
using geometry::Affine;
using geometry::Contour;
using geometry::Outline;

constexpr double pixel = 25.4 / 96;        // mm: CSS Values and Units 3, 5.2
constexpr std::size_t most_drawn = 50'000; // shapes, each use of one counted
constexpr std::size_t most_segments = 400'000;
constexpr int deepest_use = 32;
constexpr double largest_coordinate = 1e7; // mm

Error too_complex(std::string what) {
    return {"content.art_too_complex", "The drawing " + std::move(what) + ".", "Simplify it in a drawing program."};
}

bool within(const Box2& inner, const Box2& outer) {
    return inner.low.x >= outer.low.x && inner.low.y >= outer.low.y && inner.high.x <= outer.high.x &&
           inner.high.y <= outer.high.y;
}

/// What is drawn where: the map to millimetres (y up) and the room that percentages are of.
struct Place {
    Affine map;
    double room_width = 100, room_height = 100;
    std::vector<std::string> uses; ///< ids on the way here
};

/// What percentages of a stroke's lengths are of.
double diagonal_of(const Place& place) {
    return std::hypot(place.room_width, place.room_height) / std::numbers::sqrt2;
}

class Reader {
public:
    explicit Reader(const Document& document) : document_(document) {}
    Result<ReadDrawing> read();

private:
    void collect_styles(const Element& element, int depth);
    Status walk(const Element& element, const Style& parent, const Place& place, std::vector<Contour>& out);
    Status walk_children(const Element& element, const Style& style, const Place& place, std::vector<Contour>& out);
    Status walk_group(const Element& element, const Style& style, const Place& place, std::vector<Contour>& out);
    Status use(const Element& element, const Style& style, Place place, std::vector<Contour>& out);
    Status viewport(const Element& element, const Style& style, Place place, const Element* sized_by,
                    std::vector<Contour>& out);
    Status draw_shape(const Element& element, const Style& style, const Place& place, std::vector<Contour>& out);
    Status paint(std::vector<Contour> contours, geometry::FillRule rule, Paint paint, std::vector<Contour>& out);
    Status clip(const std::string& id, const Place& place, std::vector<Contour>& contours);
    Result<std::vector<Contour>> stroke_of(const std::vector<SubPath>& paths, const Style& style, double width,
                                           const Affine& map);
    Result<double> pen_width(const Style& style, const Place& place);
    Result<std::vector<SubPath>> dashed_paths(const std::vector<SubPath>& paths, DashPattern pattern,
                                              const Element& element);
    void note(std::string what, bool lost = true) { count_note(notes_, std::move(what), lost); }
    [[nodiscard]] const Element* find(std::string_view reference) const;
    void note_paint(Paint paint, const std::string& server);

    const Document& document_;
    StyleSheet sheet_;
    std::vector<Note> notes_;
    std::size_t drawn_ = 0, segments_ = 0;
    bool white_cuts_ = true;
};

const Element* Reader::find(std::string_view reference) const {
    if (reference.starts_with('#')) reference.remove_prefix(1);
    const auto found = document_.by_id.find(reference);
    return found == document_.by_id.end() ? nullptr : found->second;
}

void Reader::collect_styles(const Element& element, int depth) {
    if (element.name == "style" && !element.foreign)
        sheet_.read(element.text, [&](std::string what) { note(std::move(what)); });
    for (const auto& child : element.children)
        collect_styles(*child, depth + 1);
}

void Reader::note_paint(Paint paint, const std::string& server) {
    if (paint != Paint::server) return;
    const Element* element = find(server);
    note(element && element->name == "pattern" ? "patterns, filled solid" : "colour gradients, filled solid", false);
}

Result<ReadDrawing> Reader::read() {
    collect_styles(*document_.root, 0);
    std::vector<Contour> contours;
    const Place page{Affine{pixel, 0, 0, -pixel, {}}, 300, 150, {}};
    const auto draw_all = [&]() -> Status {
        const Style style = sheet_.style(*document_.root, Style{});
        if (!style.shown) return {};
        return viewport(*document_.root, style, page, nullptr, contours);
    };
    if (const Status drawn = draw_all(); !drawn) return std::unexpected(drawn.error());
    if (contours.empty() && white_cuts_) {
        // A drawing all in white, meant for a dark ground.
        white_cuts_ = false;
        notes_.clear();
        drawn_ = segments_ = 0;
        if (const Status drawn = draw_all(); !drawn) return std::unexpected(drawn.error());
    }
    auto outline = one_shape(std::move(contours));
    if (!outline) return std::unexpected(outline.error());
    return ReadDrawing{*std::move(outline), std::move(notes_)};
}

/// Elements that draw nothing where they stand, or say something about the drawing.
constexpr std::string_view silent[] = {"defs",   "symbol",   "clipPath", "mask",  "marker",         "pattern",
                                       "style",  "metadata", "title",    "desc",  "linearGradient", "radialGradient",
                                       "filter", "script",   "view",     "cursor"};
constexpr std::pair<std::string_view, std::string_view> lost[] = {{"text", "text; turn it into paths"},
                                                                  {"image", "pictures"},
                                                                  {"foreignObject", "foreign objects"},
                                                                  {"animate", "animation"},
                                                                  {"animateTransform", "animation"},
                                                                  {"animateMotion", "animation"},
                                                                  {"set", "animation"},
                                                                  {"video", "video"}};

Status Reader::walk(const Element& element, const Style& parent, const Place& place, std::vector<Contour>& out) {
    if (element.foreign || std::ranges::find(silent, element.name) != std::end(silent)) return {};
    const Style style = sheet_.style(element, parent);
    if (!style.shown || style.opacity == 0) return {};
    if (const auto row = std::ranges::find(lost, element.name, &std::pair<std::string_view, std::string_view>::first);
        row != std::end(lost)) {
        if (style.visible) note(std::string(row->second));
        return {};
    }
    Place here = place;
    if (const std::string_view transform = element.attribute("transform"); !transform.empty()) {
        if (const auto map = parse_transform(transform))
            here.map = place.map * *map;
        else
            note("transforms that cannot be read");
    }
    if (style.opacity < 1) note("half-transparent parts, made solid", false);
    if (!style.mask.empty()) note("masks");
    if (!style.filter.empty()) note("filter effects");
    if (style.clip.empty()) return walk_group(element, style, here, out);
    std::vector<Contour> own;
    if (const Status walked = walk_group(element, style, here, own); !walked) return walked;
    if (const Status clipped = clip(style.clip, here, own); !clipped) return clipped;
    std::ranges::move(own, std::back_inserter(out));
    return {};
}

Status Reader::walk_group(const Element& element, const Style& style, const Place& place, std::vector<Contour>& out) {
    if (element.name == "g" || element.name == "a") return walk_children(element, style, place, out);
    if (element.name == "svg") return viewport(element, style, place, nullptr, out);
    if (element.name == "use") return use(element, style, place, out);
    if (element.name == "switch") {
        for (const auto& child : element.children)
            if (!child->foreign && child->attribute("systemLanguage").empty() &&
                child->attribute("requiredExtensions").empty())
                return walk(*child, style, place, out);
        return {};
    }
    if (is_shape(element.name)) return draw_shape(element, style, place, out);
    note("elements of the kind “" + element.name.substr(0, 40) + "”");
    return {};
}

Status Reader::walk_children(const Element& element, const Style& style, const Place& place,
                             std::vector<Contour>& out) {
    for (const auto& child : element.children)
        if (const Status walked = walk(*child, style, place, out); !walked) return walked;
    return {};
}

Status Reader::use(const Element& element, const Style& style, Place place, std::vector<Contour>& out) {
    const std::string id(element.attribute("href"));
    const Element* target = find(id);
    if (!target) {
        note("uses of something that is not in the file");
        return {};
    }
    if (std::ranges::find(place.uses, id) != place.uses.end() || place.uses.size() >= deepest_use)
        return std::unexpected(Error{"content.art_malformed",
                                     "The drawing uses “" + id.substr(0, 60) + "” within itself.",
                                     "Repair it in a drawing program."});
    if (++drawn_ > most_drawn) return std::unexpected(too_complex("repeats its parts too often"));
    place.uses.push_back(id);
    const auto shift = [&](const char* key, double room) {
        return parse_length(element.attribute(key), {room, style.font_size}).value_or(0);
    };
    place.map = place.map * Affine::translation({shift("x", place.room_width), shift("y", place.room_height)});
    if (target->name == "symbol" || target->name == "svg") {
        const Style own = sheet_.style(*target, style);
        return own.shown ? viewport(*target, own, place, &element, out) : Status{};
    }
    return walk(*target, style, place, out);
}

/// An element with a coordinate system of its own (SVG 2, 8.2 and 8.6). What hangs out of it is cut off.
Status Reader::viewport(const Element& element, const Style& style, Place place, const Element* sized_by,
                        std::vector<Contour>& out) {
    const bool outermost = &element == document_.root.get();
    const auto length_of = [&](const char* key, double room) -> std::optional<double> {
        if (sized_by)
            if (const auto given = parse_length(sized_by->attribute(key), {room, style.font_size})) return given;
        return parse_length(element.attribute(key), {room, style.font_size});
    };
    const auto box = parse_numbers(element.attribute("viewBox"));
    const bool has_box = box && box->size() == 4 && (*box)[2] > 0 && (*box)[3] > 0;
    if (outermost && has_box) place.room_width = (*box)[2], place.room_height = (*box)[3];
    const auto given_width = length_of("width", place.room_width),
               given_height = length_of("height", place.room_height);
    const double slope = place.room_height / place.room_width;
    const bool by_box = outermost && has_box; // a side that is not given follows the other
    const double width = given_width.value_or(by_box && given_height ? *given_height / slope : place.room_width);
    const double height = given_height.value_or(by_box && given_width ? *given_width * slope : place.room_height);
    const bool sized = has_box || given_width.has_value();
    if (width <= 0 || height <= 0) return {};
    if (!outermost && !sized_by)
        place.map = place.map * Affine::translation({length_of("x", place.room_width).value_or(0),
                                                     length_of("y", place.room_height).value_or(0)});
    const Affine page = place.map;
    place.room_width = width, place.room_height = height;
    if (has_box) {
        const std::string_view fit = element.attribute("preserveAspectRatio");
        place.map = place.map * fitted({{(*box)[0], (*box)[1]}, {(*box)[0] + (*box)[2], (*box)[1] + (*box)[3]}}, width,
                                       height, fit);
        place.room_width = (*box)[2], place.room_height = (*box)[3];
    }
    std::vector<Contour> own;
    if (const Status walked = walk_children(element, style, place, own); !walked) return walked;
    Box2 extent;
    for (const Contour& contour : own)
        extent.add(geometry::bounds(contour));
    Box2 room;
    room.add(page({0, 0}));
    room.add(page({width, height}));
    const double slack = 1e-6 * (room.width() + room.height());
    room = room.widened(slack);
    const bool upright = page.xy == 0 && page.yx == 0;
    if (sized && upright && !extent.empty() && !within(extent, room) && element.attribute("overflow") != "visible") {
        auto whole = one_shape(std::move(own));
        if (!whole) return std::unexpected(whole.error());
        const Outline kept =
            geometry::intersection(*whole, Outline{{{geometry::contour_of(room.corners()), {}}}}, 5e-4);
        own.clear();
        geometry::append_contours(kept, own);
        note("what hangs over the page, cut off", false);
    }
    std::ranges::move(own, std::back_inserter(out));
    return {};
}

Status Reader::draw_shape(const Element& element, const Style& style, const Place& place, std::vector<Contour>& out) {
    if (!style.visible) return {};
    if (++drawn_ > most_drawn) return std::unexpected(too_complex("has too many shapes"));
    auto shape = shape_of(element, {place.room_width, place.room_height, style.font_size});
    if (!shape.complete) note("path data that breaks off with an error");
    for (const SubPath& path : shape.paths) {
        segments_ += path.segments.size();
        for (const geometry::Segment& segment : path.segments)
            for (int i = 0; i <= segment.degree; ++i) {
                const Vec2 p = place.map(segment.points[static_cast<std::size_t>(i)]);
                if (!(std::abs(p.x) < largest_coordinate && std::abs(p.y) < largest_coordinate))
                    return fail("content.art_huge", "The drawing has a point further out than 10 km.",
                                "Check the file in a drawing program.");
            }
    }
    if (segments_ > most_segments) return std::unexpected(too_complex("has too many points"));
    if (style.fill != Paint::none && style.fill_opacity > 0 && element.name != "line") {
        note_paint(style.fill, style.fill_server);
        if (style.fill_opacity < 1) note("half-transparent parts, made solid", false);
        std::vector<Contour> contours = closed_contours(shape.paths, place.map);
        const bool flat = std::ranges::all_of(contours, [](const Contour& c) { return geometry::area(c) == 0; });
        if (flat && style.stroke == Paint::none && !shape.paths.empty()) note("lines without a width");
        if (const Status painted = paint(std::move(contours), style.fill_rule, style.fill, out); !painted)
            return painted;
    }
    if (style.stroke == Paint::none || style.stroke_opacity == 0) return {};
    const auto width = pen_width(style, place);
    if (!width) return std::unexpected(width.error());
    if (*width <= 0) return {};
    note_paint(style.stroke, style.stroke_server);
    if (style.stroke_opacity < 1) note("half-transparent parts, made solid", false);
    if (style.has_markers && (element.name == "path" || element.name.starts_with("poly") || element.name == "line"))
        note("arrowheads and other markers");
    if (const auto pattern = dash_pattern(style, {diagonal_of(place), style.font_size})) {
        const auto all = dashed_paths(shape.paths, *pattern, element);
        if (!all) return std::unexpected(all.error());
        shape.paths = *std::move(all);
    }
    auto lines = stroke_of(shape.paths, style, *width, place.map);
    if (!lines) return std::unexpected(lines.error());
    return paint(*std::move(lines), geometry::FillRule::nonzero, style.stroke, out);
}

Result<double> Reader::pen_width(const Style& style, const Place& place) {
    const double width = parse_length(style.stroke_width, {diagonal_of(place), style.font_size}).value_or(1);
    if (!style.fixed_stroke) return width;
    const double scale = std::sqrt(std::abs(place.map.xx * place.map.yy - place.map.xy * place.map.yx)) / pixel;
    return scale > 0 ? width / scale : 0.0;
}

Result<std::vector<SubPath>> Reader::dashed_paths(const std::vector<SubPath>& paths, DashPattern pattern,
                                                  const Element& element) {
    if (const auto told = parse_length(element.attribute("pathLength"), {}); told && *told > 0) {
        double real = 0;
        for (const SubPath& path : paths)
            for (const geometry::Segment& segment : path.segments)
                real += length_of(segment);
        for (double& one : pattern.lengths)
            one *= real / *told;
        pattern.offset *= real / *told;
    }
    std::vector<SubPath> all;
    for (const SubPath& path : paths) {
        const auto dashes = dashed(path.segments, path.closed, pattern, most_drawn - std::min(drawn_, most_drawn));
        if (!dashes) return std::unexpected(too_complex("has too many dashes"));
        drawn_ += dashes->size();
        for (const Dash& dash : *dashes)
            all.push_back({dash.segments.front().start(), dash.segments, dash.closed});
    }
    return all;
}

Result<std::vector<Contour>> Reader::stroke_of(const std::vector<SubPath>& paths, const Style& style, double width,
                                               const Affine& map) {
    StrokeStyle pen = style.pen;
    pen.width = width;
    const double scale = std::sqrt(std::abs(map.xx * map.yy - map.xy * map.yx));
    pen.tolerance = std::max(width * 1e-4, 1e-4 / std::max(scale, 1e-9) * 0.1);
    std::vector<Contour> all;
    for (const SubPath& path : paths) {
        auto one = stroked(path.start, path.segments, path.closed, pen);
        if (!one) return one;
        for (Contour& contour : *one)
            all.push_back(geometry::transformed(contour, map));
    }
    return all;
}

Status Reader::paint(std::vector<Contour> contours, geometry::FillRule rule, Paint paint, std::vector<Contour>& out) {
    if (contours.empty()) return {};
    auto outline = one_shape(std::move(contours), rule);
    if (!outline) return std::unexpected(outline.error());
    if (paint != Paint::white || !white_cuts_) {
        geometry::append_contours(*outline, out);
        return {};
    }
    if (out.empty() || outline->empty()) return {};
    // White on what was painted before takes it away again: what a reader sees is what is marked.
    auto before = one_shape(std::move(out));
    if (!before) return std::unexpected(before.error());
    out.clear();
    geometry::append_contours(geometry::difference(*before, *outline, 5e-4), out);
    return {};
}

Status Reader::clip(const std::string& id, const Place& place, std::vector<Contour>& contours) {
    const Element* element = find(id);
    if (!element || element->name != "clipPath" || contours.empty()) return {};
    if (element->attribute("clipPathUnits") == "objectBoundingBox" || !element->attribute("clip-path").empty()) {
        note("clipping relative to a shape");
        return {};
    }
    Place inside = place;
    if (const auto map = parse_transform(element->attribute("transform"))) inside.map = place.map * *map;
    std::vector<Contour> window;
    for (const auto& child : element->children) {
        if (child->foreign || !is_shape(child->name)) {
            if (!child->foreign && child->name != "title") note("clipping by something else than shapes");
            continue;
        }
        const Style style = sheet_.style(*child, Style{});
        Place here = inside;
        if (const auto map = parse_transform(child->attribute("transform"))) here.map = inside.map * *map;
        const auto shape = shape_of(*child, {place.room_width, place.room_height, style.font_size});
        auto one = one_shape(closed_contours(shape.paths, here.map), style.clip_rule);
        if (!one) return std::unexpected(one.error());
        geometry::append_contours(*one, window);
    }
    auto whole = one_shape(std::move(window));
    auto own = one_shape(contours);
    if (!whole || !own) return std::unexpected(whole ? own.error() : whole.error());
    const Outline outside = geometry::difference(*own, *whole, 5e-4);
    if (geometry::area(outside) <= 1e-9 * geometry::area(*own)) return {}; // curves stay as they are
    contours.clear();
    geometry::append_contours(geometry::intersection(*own, *whole, 5e-4), contours);
    return {};
}

} // namespace

Result<ReadDrawing> read_svg(std::string_view text) {
    const auto document = parse_document(text);
    if (!document) return std::unexpected(document.error());
    return Reader(*document).read();
}

} // namespace touchmark::content
