// SPDX-License-Identifier: MIT
#include "core/content/lookalike.h"

#include "core/content/piece_outline.h"

#include <algorithm>
#include <array>
#include <map>
#include <numbers>
#include <set>

namespace touchmark::content {
namespace {

struct Row {
    char character;
    std::string_view others;
};
// Common practice, no source: what lists of characters to leave out of part numbers name.
constexpr std::array taken{
    Row{'0', "ODQo8"}, Row{'1', "Il7"}, Row{'2', "Z"},     Row{'3', "8B"},  Row{'5', "S6"},
    Row{'6', "G85b"},  Row{'7', "1"},   Row{'8', "B3069"}, Row{'9', "gq8"}, Row{'B', "8"},
    Row{'D', "0O"},    Row{'G', "6C"},  Row{'C', "G"},     Row{'I', "1l"},  Row{'O', "0DQ"},
    Row{'Q', "O0"},    Row{'S', "5"},   Row{'U', "V"},     Row{'V', "U"},   Row{'Z', "2"},
    Row{'l', "1I"},    Row{'o', "0"},   Row{'b', "6"},     Row{'g', "9q"},  Row{'q', "9g"},
};

constexpr std::string_view turnable = "01689HINOSXZMWlosxzunpdbq";
constexpr std::string_view turned_to = "01986HINOSXZWMlosxznudpqb";
static_assert(turnable.size() == turned_to.size());

/// Each letter where it stands on the line, all about one origin; letters that the face lacks are missing.
std::map<char, geometry::Outline> shapes_of(Text style, const std::set<char>& characters, const FontLibrary& fonts) {
    style.text.clear();
    for (const char c : characters)
        style.text += (style.text.empty() ? "" : " ") + std::string(1, c);
    style.arc_radius = Mm(0);
    style.fit_width = Mm(0);
    std::map<char, geometry::Outline> shapes;
    const Result<Drawn> drawn = draw(style, fonts);
    if (!drawn) return shapes;
    for (const Piece& piece : drawn->pieces)
        if (piece.label.size() == 1 && piece.region_count > 0) shapes[piece.label.front()] = outline_of(*drawn, piece);
    return shapes;
}

/// `b` over `a`, as wide where they differ little; on the line, or centre on centre.
geometry::Outline laid_over(const geometry::Outline& a, const geometry::Outline& b, bool on_the_line) {
    constexpr double little = 1.35;
    const Box2 box_a = geometry::bounds(a), box_b = geometry::bounds(b);
    const double ratio = box_a.width() / box_b.width();
    const double factor = ratio < little && ratio > 1 / little ? ratio : 1;
    const Vec2 from = box_b.centre(), to = box_a.centre();
    return geometry::transformed(b, {factor, 0, 0, 1, {to.x - factor * from.x, on_the_line ? 0 : to.y - from.y}});
}

geometry::Outline on_its_head(const geometry::Outline& outline) {
    return geometry::transformed(outline, geometry::Affine::rotation(std::numbers::pi));
}

} // namespace

double widest_difference(const geometry::Outline& a, const geometry::Outline& b) {
    constexpr double fine = 0.02; // mm
    const std::array only{geometry::difference(a, b, fine), geometry::difference(b, a, fine)};
    double good = 0, bad = 0;
    for (const geometry::Outline& one : only)
        for (const geometry::Region& region : one.regions) {
            const Box2 box = geometry::bounds(region.outer);
            bad = std::max(bad, std::min(box.width(), box.height()));
        }
    while (bad - good > fine) {
        const double middle = (good + bad) / 2;
        const bool fits = std::ranges::any_of(
            only, [&](const geometry::Outline& one) { return !geometry::grown(one, -middle / 2, fine).empty(); });
        (fits ? good : bad) = middle;
    }
    return good;
}

std::string_view taken_for(char character) {
    const auto row = std::ranges::find(taken, character, &Row::character);
    return row == taken.end() ? std::string_view() : row->others;
}

std::optional<char> upturned(char character) {
    const std::size_t at = turnable.find(character);
    return at == std::string_view::npos ? std::nullopt : std::optional(turned_to[at]);
}

std::vector<Lookalike> lookalikes(const Text& style, std::string_view text, const FontLibrary& fonts) {
    std::set<std::pair<char, char>> pairs, turned;
    std::set<char> characters;
    for (const char c : text) {
        for (const char other : taken_for(c))
            pairs.insert(std::minmax(c, other)), characters.insert({c, other});
        if (const auto other = upturned(c)) turned.insert({c, *other}), characters.insert({c, *other});
    }
    std::vector<Lookalike> found;
    if (characters.empty()) return found;
    const std::map<char, geometry::Outline> shapes = shapes_of(style, characters, fonts);
    for (const auto& [a, b] : pairs)
        if (shapes.contains(a) && shapes.contains(b))
            found.push_back(
                {a, b, false, widest_difference(shapes.at(a), laid_over(shapes.at(a), shapes.at(b), true))});
    for (const auto& [a, b] : turned)
        if (shapes.contains(a) && shapes.contains(b))
            found.push_back(
                {a, b, true,
                 widest_difference(shapes.at(b), laid_over(shapes.at(b), on_its_head(shapes.at(a)), false))});
    std::ranges::stable_sort(found, {}, &Lookalike::distinct);
    return found;
}

} // namespace touchmark::content
