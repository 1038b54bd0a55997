// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/progress.h"
#include "core/base/units.h"
#include "core/content/drawing.h"
#include "core/content/fonts.h"
#include "core/content/symbology.h"
#include "core/geometry/outline.h"

#include <optional>
#include <string>
#include <variant>

namespace touchmark::content {

enum class Align { left, centre, right };
/// How lettering comes to a given width.
enum class FitBy { size, spacing };

/// Lettering. Sizes are of the flat capital H, not of the em.
struct Text {
    std::string text; ///< UTF-8; lines separated by '\n'
    std::string family{default_family};
    int weight = 700;
    Mm cap_height{5};
    Mm letter_spacing{0};      ///< added after every cluster
    double line_spacing = 1.6; ///< baseline pitch as a multiple of the cap height
    Align align = Align::centre;
    Mm heavier{0};          ///< added to the width of every stroke, half on either side; negative: thinned
    Mm arc_radius{0};       ///< 0: straight. Else of the baseline's circle; negative: inside it, tops to its centre
    std::string features{}; ///< OpenType features as "tnum, zero, -liga"
    std::string axes{};     ///< of a variable font, as "wdth=85, slnt=-8"; its weight is `weight`
    /// 0: as wide as it comes. Else of the widest line, on an arc along the baseline; then `cap_height`, or
    /// `letter_spacing`, is what the width asks for.
    Mm fit_width{0};
    FitBy fit = FitBy::size;

    friend bool operator==(const Text&, const Text&) = default;
};

/// What a mark says; one file a kind.
using Content = std::variant<Text, Code, Art>;

/// The text of lettering, the message of a code, the name of a drawing; UTF-8.
[[nodiscard]] const std::string& said_by(const Content& content);
/// What a content is scaled by: the cap height of lettering, or the width that its size fits; the module of a code; the
/// width or height of a drawing.
[[nodiscard]] Mm size_of(const Content& content);
/// The same lettering at another cap height with every length in proportion: its outline is that of `text`, scaled.
[[nodiscard]] Text in_proportion(Text text, Mm cap_height);
/// Scaled as a whole: heights that are lengths of their own go along, spacing between letters stays.
[[nodiscard]] Content with_size(Content content, Mm size);

/// A part of a drawn content that a person can name: a letter, later a module or a path.
struct Piece {
    std::string label; ///< the cluster's own characters, UTF-8
    std::size_t first_region = 0, region_count = 0;
    Box2 extent;
};

/// Characters that the face lacks; they are left out of the outline, never drawn as boxes.
struct MissingCharacter {
    std::string character; ///< UTF-8
    char32_t code_point = 0;
    std::size_t line = 0; ///< from 0
};

/// The narrowest places of a code: one dark and one light module that stand alone, about the content's origin.
struct ModulePlaces {
    double module_mm = 0;
    Vec2 dark, light;
    Box2 whole{};                     ///< the symbol with its free margin
    double quiet_mm = 0;              ///< the margin's width; 0 where it is part of the mark itself
    double groove_mm = 0, rib_mm = 0; ///< of a code whose modules are grooves, else 0
};

/// A content as an outline, centred on its own origin (0, 0).
struct Drawn {
    geometry::Outline outline;
    std::vector<Piece> pieces; ///< in reading order; together they cover every region once
    std::vector<MissingCharacter> missing;
    Box2 extent;                         ///< of the outline, mm
    FontFace face;                       ///< the face really used
    std::optional<ModulePlaces> code;    ///< of a code: its pieces but the first are lettering
    std::vector<Note> notes;             ///< of a drawing: what it does not show as its author sees it
    Mm cap_height{0}, letter_spacing{0}; ///< of lettering: as fitted
    /// For each region the index of its piece.
    std::vector<std::uint32_t> piece_of_region;
};

/// The text with what fit-to-width made of it written out: it draws the same and fits nothing.
[[nodiscard]] Text as_drawn(Text text, const Drawn& drawn);

/// Errors: "content.empty" (nothing visible to draw), "content.too_long", "content.bad_utf8", "content.size",
/// "content.feature", "content.thinned", "content.arc", "content.fit", font errors, those of a code and of a drawing.
[[nodiscard]] Result<Drawn> draw(const Content& content, const FontLibrary& fonts);

/// Upright faces of the content's family heavier than the one it uses, lightest first (for "a heavier weight").
[[nodiscard]] std::vector<FontFace> heavier_faces(const Text& text, const FontLibrary& fonts);

void add(Digester& digester, const Content& content);

} // namespace touchmark::content
