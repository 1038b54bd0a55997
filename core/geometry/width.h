// SPDX-License-Identifier: MIT
#pragma once

#include "core/geometry/outline.h"

#include <cstdint>
#include <optional>
#include <span>

namespace touchmark::geometry {

/// A place where an outline (or the gap between its parts) is narrow.
struct Narrow {
    /// On the medial axis, mm.
    Vec2 at;
    /// The two boundary points that face each other across it.
    Vec2 side_a, side_b;
    /// Local width there, mm: the diameter of the largest disc that fits.
    double width = 0;
    /// Index of the region that is narrow; for a gap, the region on side a.
    std::uint32_t region = 0;
    /// For a gap, the region on side b (may equal `region`: a counter or a notch); else the same as region.
    std::uint32_t other_region = 0;
};

struct WidthOptions {
    /// How finely curves are approximated, mm.
    double tolerance = 2e-3;
    /// Only places narrower than this are reported, mm.
    double below = 1e9;
};

/// Stroke width, by the medial axis (the Voronoi diagram of the boundary): for each region its locally narrowest
/// places, the narrowest first. Branches of the axis that run into a convex corner or a stroke's end are not strokes
/// and do not count. At least one entry a region (its overall minimum), unless filtered by `below`.
[[nodiscard]] std::vector<Narrow> stroke_widths(const Outline& outline, const WidthOptions& options = {});

/// Gap width, the same on the complement: inside counters and notches, and between neighbouring regions where they come
/// closest; the narrowest first. Concave corners do not count. Each hole has at least one entry, if only the largest
/// disc in it. Empty where nothing faces anything.
[[nodiscard]] std::vector<Narrow> gap_widths(const Outline& outline, const WidthOptions& options = {});

/// A short piece along a region's strokes, or along the gaps within it. A letter's are many; together they say how much
/// of it is how wide.
struct Stretch {
    double width = 0, length = 0; ///< mm
    std::uint32_t region = 0;
    Vec2 along{}; ///< unit, either way
};

struct Widths {
    std::vector<Narrow> strokes, gaps;
    /// All along them, region by region, in no order; corners and ends that are none do not count, nor does what lies
    /// between two regions.
    std::vector<Stretch> stroke_stretches, gap_stretches;
};

/// Both from one diagram, in the time of one.
[[nodiscard]] Widths widths(const Outline& outline, const WidthOptions& options = {});

} // namespace touchmark::geometry
