// SPDX-License-Identifier: MIT
#pragma once

#include "core/rules/fixes.h"

/// What stroke_width and gap_width share: both judge the narrow places of a drawn outline, and the height that clears
/// one should clear the other.
namespace touchmark::rules {

[[nodiscard]] std::vector<Finding> assess_stroke_width(const Context& context, const MarkView& view, std::size_t mark);
[[nodiscard]] std::vector<Finding> assess_gap_width(const Context& context, const MarkView& view, std::size_t mark);

/// Where the outline is narrower than the comfortable figure: each name once, in the order of their worst place.
struct NarrowPlaces {
    std::vector<std::string> names;
    std::vector<Vec2> where; ///< on the map, the worst first
    double extent_mm = 1;    ///< of the worst place's letter
    const geometry::Narrow* worst = nullptr;
    bool in_code = false; ///< the worst is a module
};
using NameOf = std::string (*)(const content::Drawn& drawn, const geometry::Narrow& place);
[[nodiscard]] NarrowPlaces narrow_places(const MarkView& view, std::span<const geometry::Narrow> places, double below,
                                         NameOf name);

/// The piece that a region belongs to.
[[nodiscard]] const content::Piece* piece_of(const content::Drawn& drawn, std::uint32_t region);

/// By how much the mark has to grow for `rule` to be silent, at least 1.
[[nodiscard]] double clean_factor(const Context& context, const MarkView& view, std::string_view rule);

} // namespace touchmark::rules
