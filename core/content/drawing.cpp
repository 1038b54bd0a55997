// SPDX-License-Identifier: MIT
#include "core/content/drawing.h"

#include "core/base/atomic_file.h"
#include "core/content/content.h"
#include "core/content/utf8.h"

#include <algorithm>
#include <cmath>

namespace touchmark::content {
namespace {

constexpr double longer_side = 100;

bool looks_like_xml(std::string_view text) {
    const auto first = text.find_first_not_of(" \t\r\n");
    return first != std::string_view::npos && text[first] == '<';
}

Result<Shape> shape_of(std::string_view source) {
    if (source.empty())
        return fail("content.art_empty", "The mark has no drawing yet.", "Choose an SVG or a DXF file.");
    auto read = looks_like_xml(source) ? read_svg(source) : read_dxf(source);
    if (!read) return std::unexpected(read.error());
    if (read->outline.empty()) {
        std::string all;
        for (const Note& note : read->notes)
            all += (all.empty() ? " It holds only " : ", ") + note.what;
        return fail("content.art_empty",
                    "The drawing has nothing with an area to mark." + (all.empty() ? "" : all + "."),
                    "Turn text and lines into filled shapes in a drawing program.");
    }
    const Box2 extent = bounds(read->outline);
    const double factor = longer_side / std::max(extent.width(), extent.height());
    Shape shape;
    shape.outline = geometry::transformed(read->outline, geometry::Affine::scale(factor) *
                                                             geometry::Affine::translation(extent.centre() * -1.0));
    shape.scale = 1 / factor;
    shape.width = extent.width() * factor;
    shape.height = extent.height() * factor;
    shape.notes = std::move(read->notes);
    return shape;
}

} // namespace

Drawing::Drawing(std::string source) : source_(std::move(source)), digest_(Digester().add(source_).digest()) {}

const Result<Shape>& Drawing::shape() const {
    std::call_once(once_, [&] { shape_.emplace(shape_of(source_)); });
    return *shape_;
}

bool operator==(const Art& a, const Art& b) {
    if (a.name != b.name || a.scaled_by != b.scaled_by || a.size_mm != b.size_mm) return false;
    if (a.drawing == b.drawing) return true;
    return a.drawing && b.drawing && a.drawing->digest() == b.drawing->digest() &&
           a.drawing->source() == b.drawing->source();
}

Result<Art> art_from(std::string name, std::string bytes) {
    std::string text = utf8_from(std::move(bytes));
    if (text.size() > largest_drawing)
        return fail("content.art_too_large", "The drawing " + name + " is larger than 4 MB.",
                    "Simplify it, or take pictures out of it.");
    Art art{.name = std::move(name), .drawing = std::make_shared<const Drawing>(std::move(text))};
    const Result<Shape>& shape = art.drawing->shape();
    if (!shape) return std::unexpected(shape.error());
    const double width = shape->width * shape->scale, height = shape->height * shape->scale;
    art.scaled_by = width >= height ? ScaledBy::width : ScaledBy::height;
    art.size_mm = std::clamp(std::round(std::max(width, height) * 100) / 100, 0.2, 500.0);
    return art;
}

Result<Art> art_from_file(const std::filesystem::path& file) {
    Result<std::string> bytes = read_text(file, 2 * largest_drawing);
    if (!bytes) return std::unexpected(bytes.error());
    std::string name = file.filename().string();
    if (!decode_utf8(name)) name = "drawing";
    return art_from(std::move(name), *std::move(bytes));
}

Result<Drawn> draw_art(const Art& art) {
    if (!art.drawing) return fail("content.art_empty", "The mark has no drawing yet.", "Choose an SVG or a DXF file.");
    if (!(art.size_mm > 0) || art.size_mm > largest_art)
        return fail("content.size", "A drawing has to be more than 0 and at most 10,000 mm large.");
    const Result<Shape>& shape = art.drawing->shape();
    if (!shape) return std::unexpected(shape.error());
    const double factor = art.size_mm / (art.scaled_by == ScaledBy::width ? shape->width : shape->height);
    if (!(std::max(shape->width, shape->height) * factor <= largest_art))
        return fail("content.size", "At this size the drawing is more than 10,000 mm long.");
    Drawn drawn;
    drawn.outline = geometry::transformed(shape->outline, geometry::Affine::scale(factor));
    drawn.extent = bounds(drawn.outline);
    drawn.pieces.push_back({art.name, 0, drawn.outline.regions.size(), drawn.extent});
    drawn.piece_of_region.assign(drawn.outline.regions.size(), 0);
    drawn.notes = shape->notes;
    return drawn;
}

Result<geometry::Outline> one_shape(std::vector<geometry::Contour> contours, geometry::FillRule fill) {
    auto outline = geometry::outline_from(contours, {.fill = fill});
    // What is as large as this fails by its number of crossings, which turning does not lessen.
    constexpr std::size_t worth_turning = 20'000;
    std::size_t segments = 0;
    for (const geometry::Contour& contour : contours)
        segments += contour.segments.size();
    const int most_tries = segments <= worth_turning ? 3 : 0;
    double angle = 1e-3, resolution = 2e-5;
    for (int tries = 0; !outline && tries < most_tries; ++tries, angle *= -1.7, resolution *= 4) {
        std::vector<geometry::Contour> turned;
        for (const geometry::Contour& contour : contours)
            turned.push_back(geometry::transformed(contour, geometry::Affine::rotation(angle)));
        outline = geometry::outline_from(std::move(turned), {.fill = fill, .resolution = resolution});
        if (outline) outline = geometry::transformed(*outline, geometry::Affine::rotation(-angle));
    }
    if (outline) return outline;
    return fail("content.art_too_complex", "The shapes of the drawing cross more often than can be worked out.",
                "Unite its shapes in a drawing program.");
}

void count_note(std::vector<Note>& notes, std::string what, bool lost) {
    const auto found = std::ranges::find(notes, what, &Note::what);
    if (found == notes.end())
        notes.push_back({std::move(what), 1, lost});
    else
        ++found->count;
}

} // namespace touchmark::content
