// SPDX-License-Identifier: MIT
#include "core/content/text.h"

#include "core/content/comma_list.h"

#include "core/content/fit.h"
#include "core/content/shaping.h"
#include "core/content/utf8.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <numeric>

namespace touchmark::content {
namespace {

using geometry::Affine;
using geometry::Outline;

constexpr std::size_t longest_text = 10'000; // characters
constexpr double largest_size = 10'000;      // mm

/// A cluster with an outline, placed on the mark but not yet centred.
struct Letter {
    std::map<std::size_t, std::u32string> characters; ///< by place in the text; more than one when letters are joined
    Outline outline;
    Box2 box;
};

Status check(const Text& text) {
    const double cap = text.cap_height.value;
    if (!(cap > 0) || cap > largest_size)
        return fail("content.size", "A cap height has to be more than 0 and at most 10,000 mm.",
                    "Enter a height in millimetres.");
    if (!std::isfinite(text.letter_spacing.value) || std::abs(text.letter_spacing.value) > largest_size ||
        !std::isfinite(text.line_spacing) || std::abs(text.line_spacing) > 1'000)
        return fail("content.size", "The spacing of the text is out of range.", "Enter a smaller spacing.");
    if (!(std::abs(text.heavier.value) <= cap) || !(std::abs(text.arc_radius.value) <= largest_size) ||
        !(text.fit_width.value >= 0 && text.fit_width.value <= largest_size))
        return fail("content.size", "The change of the stroke width, the radius or the width is out of range.",
                    "Enter a smaller value.");
    return {};
}

Result<std::vector<std::u32string>> lines_of(const std::string& utf8) {
    // Four bytes a character at most: refuse before decoding what cannot fit.
    const auto too_long = [] {
        return fail("content.too_long", "The text is longer than 10,000 characters.",
                    "Put it into several marks, or into a code.");
    };
    if (utf8.size() > 4 * longest_text) return too_long();
    const auto text = decode_utf8(utf8);
    if (!text)
        return fail("content.bad_utf8", "The text is not valid UTF-8.", "Type it again, or save its source as UTF-8.");
    if (text->size() > longest_text) return too_long();
    std::vector<std::u32string> lines(1);
    for (std::size_t i = 0; i < text->size(); ++i) {
        const char32_t c = (*text)[i];
        if (c == U'\r' && i + 1 < text->size() && (*text)[i + 1] == U'\n') continue;
        if (c == U'\n' || c == U'\r' || c == U'\u2028' || c == U'\u2029')
            lines.emplace_back();
        else
            lines.back() += c < 0x20 || c == 0x7f ? U' ' : c; // tabs and controls have no shape
    }
    return lines;
}

/// Unites the glyphs of one cluster when there is more than one (a base and its marks).
Result<Outline> assembled(const Cluster& cluster, const LoadedFace& face, double scale, double font_scale,
                          Vec2 origin) {
    Outline outline;
    std::vector<geometry::Contour> contours;
    for (const PlacedGlyph& placed : cluster.glyphs) {
        const auto glyph = face.glyph(placed.glyph);
        if (!glyph) return std::unexpected(glyph.error());
        if ((*glyph)->empty()) continue;
        const Vec2 at = origin + Vec2{placed.x, placed.y} * font_scale;
        Outline moved = transformed(**glyph, Affine::translation(at) * Affine::scale(scale));
        geometry::append_contours(moved, contours);
        std::ranges::move(moved.regions, std::back_inserter(outline.regions));
    }
    const auto drawn = std::ranges::count_if(
        cluster.glyphs, [&](const PlacedGlyph& placed) { return !(*face.glyph(placed.glyph))->empty(); });
    if (drawn < 2) return outline;
    return geometry::outline_from(std::move(contours));
}

/// Two letters, neither of which touches itself, overlap or touch when their union has fewer areas than they.
Result<bool> touch(const Outline& a, const Outline& b) {
    std::vector<geometry::Contour> contours;
    geometry::append_contours(a, contours);
    geometry::append_contours(b, contours);
    const auto both = geometry::outline_from(std::move(contours));
    if (!both) return std::unexpected(both.error());
    return both->regions.size() < a.regions.size() + b.regions.size();
}

/// For each letter the first of those that it is joined to, directly or by others; itself when it stands alone.
Result<std::vector<std::size_t>> joined_to(const std::vector<Letter>& letters) {
    std::vector<std::size_t> order(letters.size()), first(letters.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::iota(first.begin(), first.end(), std::size_t{0});
    std::ranges::sort(order, {}, [&](std::size_t i) { return letters[i].box.low.x; });
    const auto root = [&](std::size_t i) {
        while (first[i] != i)
            i = first[i] = first[first[i]];
        return i;
    };
    std::vector<std::size_t> open; // whose box may still reach the next ones
    for (const std::size_t i : order) {
        std::erase_if(open, [&](std::size_t j) { return letters[j].box.high.x < letters[i].box.low.x; });
        for (const std::size_t j : open) {
            const std::size_t a = root(i), b = root(j);
            if (a == b || !letters[i].box.meets(letters[j].box)) continue;
            const auto together = touch(letters[i].outline, letters[j].outline);
            if (!together) return std::unexpected(together.error());
            if (*together) first[std::max(a, b)] = std::min(a, b);
        }
        open.push_back(i);
    }
    for (std::size_t i = 0; i < letters.size(); ++i)
        first[i] = root(i);
    return first;
}

/// Joins letters that overlap or touch: combined marks over a neighbour, tight spacing, joined scripts.
Status join_overlapping(std::vector<Letter>& letters) {
    const auto first = joined_to(letters);
    if (!first) return std::unexpected(first.error());
    std::map<std::size_t, std::vector<geometry::Contour>> joined;
    for (std::size_t i = 0; i < letters.size(); ++i) {
        const std::size_t to = (*first)[i];
        if (to == i) continue;
        auto& contours = joined[to];
        if (contours.empty()) geometry::append_contours(letters[to].outline, contours);
        geometry::append_contours(letters[i].outline, contours);
        letters[to].characters.merge(letters[i].characters);
        letters[i].outline = {};
    }
    for (auto& [to, contours] : joined) {
        auto outline = geometry::outline_from(std::move(contours));
        if (!outline) return std::unexpected(outline.error());
        letters[to].outline = std::move(*outline);
    }
    std::erase_if(letters, [](const Letter& letter) { return letter.outline.empty(); });
    // Reading order, which for right-to-left scripts is not the order from left to right.
    std::ranges::sort(letters, {}, [](const Letter& letter) { return letter.characters.begin()->first; });
    return {};
}

/// "tnum, -liga, salt=2" → what HarfBuzz takes.
Result<std::vector<hb_feature_t>> features_in(std::string_view list) {
    std::vector<hb_feature_t> features;
    const std::vector<std::string> entries = entries_of(list);
    for (const std::string& one : entries) {
        hb_feature_t feature{};
        if (!hb_feature_from_string(one.data(), static_cast<int>(one.size()), &feature))
            return fail("content.feature", "There is no OpenType feature \"" + one + "\".",
                        "Features have four letters, for instance tnum (figures of one width) or zero (slashed zero).");
        features.push_back(feature);
    }
    return features;
}

/// Strokes that grow or shrink by the same on both sides.
Status change_weight(std::vector<Letter>& letters, double by) {
    if (by == 0) return {};
    for (Letter& letter : letters) {
        letter.outline = geometry::grown(letter.outline, by / 2);
        if (letter.outline.empty())
            return fail("content.thinned", "Thinned by so much, strokes of the text vanish.", "Thin them less.");
        letter.box = bounds(letter.outline);
    }
    return {};
}

/// Each letter turned about its own middle onto the circle; the lines' origin comes to its top, or inside to its foot.
Status bend(std::vector<Letter>& letters, double radius) {
    if (radius == 0) return {};
    Box2 extent;
    for (const Letter& letter : letters)
        extent.add(letter.box);
    if (extent.width() > 2 * std::numbers::pi * std::abs(radius))
        return fail("content.arc", "The text is longer than the circle is round.",
                    "Enlarge the radius, or make the text smaller.");
    for (Letter& letter : letters) {
        const double middle = letter.box.centre().x;
        const Affine map = Affine::rotation(-middle / radius) * Affine::translation({-middle, radius});
        letter.outline = transformed(letter.outline, map);
        letter.box = bounds(letter.outline);
    }
    return {};
}

struct Setting {
    const LoadedFace& face;
    double font_scale;  ///< mm a font unit
    double glyph_scale; ///< mm a mm of a cached glyph
};

double indent(Align align, double advance) {
    switch (align) {
    case Align::left:
        return 0;
    case Align::centre:
        return -advance / 2;
    case Align::right:
        return -advance;
    }
    return 0;
}

Drawn assembled_drawing(std::vector<Letter> letters) {
    Drawn drawn;
    Box2 extent;
    for (Letter& letter : letters) {
        letter.box = bounds(letter.outline);
        extent.add(letter.box);
    }
    const Vec2 centre = extent.empty() ? Vec2{} : extent.centre();
    const Affine home = Affine::translation(centre * -1.0);
    for (Letter& letter : letters) {
        Outline moved = transformed(letter.outline, home);
        std::u32string characters;
        for (const auto& [place, some] : letter.characters)
            characters += some;
        const Piece piece{encode_utf8(characters),
                          drawn.outline.regions.size(),
                          moved.regions.size(),
                          {letter.box.low - centre, letter.box.high - centre}};
        drawn.piece_of_region.insert(drawn.piece_of_region.end(), moved.regions.size(),
                                     static_cast<std::uint32_t>(drawn.pieces.size()));
        std::ranges::move(moved.regions, std::back_inserter(drawn.outline.regions));
        drawn.pieces.push_back(piece);
    }
    if (!extent.empty()) drawn.extent = {extent.low - centre, extent.high - centre};
    return drawn;
}

/// `place` is that of the line's first character in the whole text.
Status set_line(const ShapedLine& line, const Setting& setting, Vec2 origin, std::size_t place,
                std::vector<Letter>& letters) {
    for (const Cluster& cluster : line.clusters) {
        auto outline = assembled(cluster, setting.face, setting.glyph_scale, setting.font_scale, origin);
        if (!outline) return std::unexpected(outline.error());
        if (outline->empty()) continue;
        const Box2 box = bounds(*outline);
        letters.push_back({{{place + cluster.first, cluster.characters}}, std::move(*outline), box});
    }
    return {};
}

/// All lines, straight and not yet joined. `missing`: filled when not null.
Result<std::vector<Letter>> set_letters(const Text& text, std::span<const std::u32string> lines, const LoadedFace& font,
                                        std::vector<MissingCharacter>* missing) {
    const auto features = features_in(text.features);
    if (!features) return std::unexpected(features.error());
    const double font_scale = text.cap_height.value / font.cap_height();
    const Setting setting{font, font_scale, text.cap_height.value / LoadedFace::reference_cap_height};
    std::vector<Letter> letters;
    for (std::size_t n = 0; n < lines.size(); ++n) {
        const ShapedLine line = shape_line(lines[n], font, text.letter_spacing.value / font_scale, *features);
        const double down = static_cast<double>(n) * text.line_spacing * text.cap_height.value;
        const Vec2 origin{indent(text.align, line.advance * font_scale), -down};
        if (const Status set = set_line(line, setting, origin, n * longest_text, letters); !set)
            return std::unexpected(set.error());
        for (std::size_t i = 0; missing && i < line.missing.size(); ++i)
            missing->push_back({encode_utf8({&line.missing[i], 1}), line.missing[i], n});
    }
    if (const Status weighed = change_weight(letters, text.heavier.value); !weighed)
        return std::unexpected(weighed.error());
    return letters;
}

/// Of the widest line.
double width_of(const std::vector<Letter>& letters) {
    std::map<std::size_t, Box2> lines;
    for (const Letter& letter : letters)
        lines[letter.characters.begin()->first / longest_text].add(letter.box);
    double widest = 0;
    for (const auto& [line, box] : lines)
        widest = std::max(widest, box.width());
    return widest;
}

} // namespace

Result<Drawn> draw_text(const Text& text, const FontLibrary& fonts) {
    if (const Status sizes = check(text); !sizes) return std::unexpected(sizes.error());
    const auto lines = lines_of(text.text);
    if (!lines) return std::unexpected(lines.error());
    const auto axes = axis_settings(text.axes);
    if (!axes) return std::unexpected(axes.error());
    const auto face = fonts.find(text.family, text.weight, *axes);
    if (!face) return std::unexpected(face.error());
    const auto font = loaded(fonts, *face);
    if (!font) return std::unexpected(font.error());

    std::vector<MissingCharacter> missing;
    auto letters = set_letters(text, *lines, **font, &missing);
    if (!letters) return std::unexpected(letters.error());
    if (letters->empty() && missing.empty())
        return fail("content.empty", "The mark has no text yet.", "Type what it should say.");
    Text as_set = text;
    if (text.fit_width.value > 0 && !letters->empty()) {
        auto fit = fitted(text, [&](const Text& tried) -> Result<double> {
            const auto set = set_letters(tried, *lines, **font, nullptr);
            if (!set) return std::unexpected(set.error());
            return width_of(*set);
        });
        if (!fit) return std::unexpected(fit.error());
        as_set = *std::move(fit);
        letters = set_letters(as_set, *lines, **font, nullptr);
        if (!letters) return std::unexpected(letters.error());
    }
    if (const Status bent = bend(*letters, text.arc_radius.value); !bent) return std::unexpected(bent.error());
    if (const Status joined = join_overlapping(*letters); !joined) return std::unexpected(joined.error());
    Drawn drawn = assembled_drawing(*std::move(letters));
    drawn.missing = std::move(missing);
    drawn.face = *face;
    drawn.cap_height = as_set.cap_height;
    drawn.letter_spacing = as_set.letter_spacing;
    return drawn;
}

std::vector<FontFace> heavier_faces(const Text& text, const FontLibrary& fonts) {
    const auto axes = axis_settings(text.axes);
    const auto used = axes ? fonts.find(text.family, text.weight, *axes) : std::unexpected(axes.error());
    if (!used) return {};
    std::vector<FontFace> heavier;
    for (const FontFace& face : fonts.faces(text.family))
        if (!face.italic && face.width == used->width && face.weight > used->weight) heavier.push_back(face);
    std::ranges::sort(heavier, {}, &FontFace::weight);
    const auto same = std::ranges::unique(heavier, {}, &FontFace::weight);
    heavier.erase(same.begin(), same.end());
    return heavier;
}

} // namespace touchmark::content
