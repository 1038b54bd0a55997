// SPDX-License-Identifier: MIT
#pragma once

#include "core/content/loaded_face.h"

#include <span>
#include <string_view>
#include <vector>

namespace touchmark::content {

/// One glyph of a shaped line, in font units from the line's origin.
struct PlacedGlyph {
    std::uint32_t glyph = 0;
    double x = 0, y = 0;
};

/// What was typed together and is drawn together: a letter, a ligature, a base with its marks.
struct Cluster {
    std::size_t first = 0; ///< index of its first character in the line
    std::u32string characters;
    std::vector<PlacedGlyph> glyphs;
};

struct ShapedLine {
    std::vector<Cluster> clusters; ///< in visual order, left to right; spaces have no glyphs with an outline
    std::u32string missing;        ///< characters the face lacks, in the order of the text; they take no room
    double advance = 0;            ///< without the letter spacing after the last cluster
};

/// One line (no line breaks in it): the bidirectional algorithm by FriBidi, runs of one script and direction by
/// HarfBuzz. `letter_spacing` (font units) goes after every cluster, but not between joined letters of a cursive
/// script. `features`: OpenType features switched on or off over the whole line.
[[nodiscard]] ShapedLine shape_line(std::u32string_view line, const LoadedFace& face, double letter_spacing,
                                    std::span<const hb_feature_t> features = {});

} // namespace touchmark::content
