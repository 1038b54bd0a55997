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
/// letter without one of its strokes is another one. The like for the gaps within it, by their length over that of the
/// strokes. Calibrated against the simulated print; see docs/simulated-print.md.
inline constexpr double lost_share = 0.35, unread_share = 0.2;
inline constexpr double closed_share = 0.3, dim_share = 0.2;

/// How the layers of a side wall lie on a mark. Each draws what it cuts across: a stroke that runs along a layer is
/// there from one layer's height on, however thin; one that runs up has to be as wide as the nozzle draws.
struct Layering {
    std::optional<Vec2> up{}; ///< across the layers, unit, in the frame of the drawn outline; none: all ways are alike
    double height = 0;        ///< of one, mm

    /// Whether a stretch is too narrow where `below` is what a stroke across the layers needs.
    [[nodiscard]] bool too_narrow(const geometry::Stretch& stretch, double below) const;
};
[[nodiscard]] Layering layering_of(const Context& context, const MarkView& view);

/// What is too narrow of `stretches`, its length over that of all `strokes`; 0 without any.
[[nodiscard]] double narrow_share(std::span<const geometry::Stretch> stretches,
                                  std::span<const geometry::Stretch> strokes, double below, const Layering& layering);

/// Of the piece that has most of it, the share that is too narrow. `places` that belong to no stretch, as dots, modules
/// and what lies between two pieces, are narrow as a whole. `stretches` and `strokes` may be null.
[[nodiscard]] double narrow_share(const content::Drawn& drawn, std::span<const geometry::Narrow> places,
                                  const std::vector<geometry::Stretch>* stretches,
                                  const std::vector<geometry::Stretch>* strokes, double below,
                                  const Layering& layering);

/// By how much the mark has to grow for `rule` to be silent, at least 1.
[[nodiscard]] double clean_factor(const Context& context, const MarkView& view, std::string_view rule);

} // namespace touchmark::rules
