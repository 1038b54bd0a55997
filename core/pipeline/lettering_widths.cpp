// SPDX-License-Identifier: MIT
#include "core/pipeline/lettering_widths.h"

#include "core/content/piece_outline.h"

#include "core/rules/outline_distance.h"

#include <algorithm>
#include <cmath>
#include <span>

namespace touchmark::pipeline {
namespace {

using geometry::Narrow;

struct Letter {
    const content::Piece* piece = nullptr;
    geometry::Outline outline; ///< where it stands
};

std::vector<Letter> letters_of(const content::Drawn& drawn) {
    std::vector<Letter> letters;
    for (const content::Piece& piece : std::span(drawn.pieces).subspan(drawn.code ? 1 : 0)) {
        if (piece.region_count == 0) continue;
        letters.push_back({&piece, content::outline_of(drawn, piece)});
    }
    return letters;
}

/// By what is written in which face and by its measures: a letter has other forms beside some neighbours.
Digest key_of(const Letter& letter, const content::FontFace& face) {
    constexpr double grain = 1e-6; // mm; well above what moving a letter does to its coordinates
    const auto grains = [](double value) { return static_cast<std::int64_t>(std::llround(value / grain)); };
    const Box2& box = letter.piece->extent;
    Digester digester;
    digester.add(face.file.native())
        .add(face.index)
        .add(face.weight)
        .add(content::text_of(face.settings))
        .add(letter.piece->label)
        .add(letter.piece->region_count);
    digester.add(grains(box.width())).add(grains(box.height())).add(grains(geometry::area(letter.outline)));
    return digester.digest();
}

/// Moved, and numbered on from the letter's first region.
std::vector<Narrow> placed(std::vector<Narrow> places, const content::Piece& piece) {
    const auto first = static_cast<std::uint32_t>(piece.first_region);
    for (Narrow& place : places) {
        place.at = place.at + piece.extent.low;
        place.side_a = place.side_a + piece.extent.low;
        place.side_b = place.side_b + piece.extent.low;
        place.region += first;
        place.other_region += first;
    }
    return places;
}

void add(std::span<const geometry::Stretch> stretches, const content::Piece& piece,
         std::vector<geometry::Stretch>& all) {
    for (geometry::Stretch stretch : stretches) {
        stretch.region += static_cast<std::uint32_t>(piece.first_region);
        all.push_back(stretch);
    }
}

void add_gaps_between(const std::vector<Letter>& letters, double reach, std::vector<Narrow>& gaps) {
    for (std::size_t i = 0; i < letters.size(); ++i)
        for (std::size_t k = i + 1; k < letters.size(); ++k) {
            const Box2 near = letters[i].piece->extent.widened(reach);
            if (!near.meets(letters[k].piece->extent)) continue;
            const auto gap = rules::nearness(letters[i].outline, letters[k].outline, reach);
            if (!gap) continue;
            gaps.push_back({(gap->on_a + gap->on_b) * 0.5, gap->on_a, gap->on_b, gap->distance,
                            static_cast<std::uint32_t>(letters[i].piece->first_region),
                            static_cast<std::uint32_t>(letters[k].piece->first_region)});
        }
}

} // namespace

Result<geometry::Widths> lettering_widths(Store& store, const content::Drawn& drawn, Mm cap_height,
                                          const Progress& progress) {
    geometry::Widths all;
    const std::vector<Letter> letters = letters_of(drawn);
    for (const Letter& letter : letters) {
        const auto own = store.letters.get(
            key_of(letter, drawn.face), progress, [&]() -> Result<std::shared_ptr<const geometry::Widths>> {
                const Vec2 back = letter.piece->extent.low * -1;
                return std::make_shared<const geometry::Widths>(
                    geometry::widths(geometry::transformed(letter.outline, geometry::Affine::translation(back))));
            });
        if (!own) return std::unexpected(own.error());
        std::ranges::move(placed((*own)->strokes, *letter.piece), std::back_inserter(all.strokes));
        add((*own)->stroke_stretches, *letter.piece, all.stroke_stretches);
        add((*own)->gap_stretches, *letter.piece, all.gap_stretches);
        std::ranges::move(placed((*own)->gaps, *letter.piece), std::back_inserter(all.gaps));
    }
    add_gaps_between(letters, cap_height.value / 2, all.gaps);
    std::ranges::stable_sort(all.strokes, {}, &Narrow::width);
    std::ranges::stable_sort(all.gaps, {}, &Narrow::width);
    return all;
}

} // namespace touchmark::pipeline
