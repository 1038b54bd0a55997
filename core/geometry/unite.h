// SPDX-License-Identifier: MIT
#pragma once

#include "core/geometry/outline.h"

#include <optional>

namespace touchmark::geometry {

struct UniteOptions {
    FillRule fill = FillRule::nonzero;
    /// Winding number of everything else around these contours.
    int background = 0;
    /// Corners this close to each other or to an edge become one, mm.
    double resolution = 1e-5;
    /// Flatness of the polygons on which what is inside is decided, mm.
    double tolerance = 5e-5;
    /// false: only lines, which keep their distance by construction.
    bool keep_curves = true;
    /// Areas that meet at a point only are joined there: their corners are cut this far from it, mm.
    double bridge = 0.005;
};

/// Contours that cross or touch one another → contours that do neither, material on the left of each. Flattened and cut
/// where they meet, every edge is kept that has material on one side only; the curves are then cut at their true
/// intersections. nullopt when the cuts do not settle.
[[nodiscard]] std::optional<std::vector<Contour>> unite(std::span<const Contour> contours, const UniteOptions& options);

} // namespace touchmark::geometry
