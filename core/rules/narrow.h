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

/// From these shares of a letter's strokes on that are too narrow to print it is lost, or is not read for sure: a
/// letter without one of its strokes is another one. The like for the gaps within it. Calibrated against the simulated
/// print; see docs/simulated-print.md.
inline constexpr double lost_share = 0.25, unread_share = 0.15, closed_share = 0.4;

/// Of the piece that has most of it, the share of its stretches' length that is narrower than `below`. `places` that
/// belong to no stretch, as dots, modules and what lies between two pieces, are narrow as a whole. `stretches` may be
/// null.
[[nodiscard]] double narrow_share(const content::Drawn& drawn, std::span<const geometry::Narrow> places,
                                  const std::vector<geometry::Stretch>* stretches, double below);

/// By how much the mark has to grow for `rule` to be silent, at least 1.
[[nodiscard]] double clean_factor(const Context& context, const MarkView& view, std::string_view rule);

} // namespace touchmark::rules
