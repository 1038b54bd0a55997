// SPDX-License-Identifier: MIT
#pragma once

#include "core/geometry/contour.h"

#include <optional>
#include <span>
#include <vector>

namespace touchmark::content {

/// A drawn stretch of a dashed line. Closed only where the line never breaks.
struct Dash {
    std::vector<geometry::Segment> segments; ///< at least one, if only to give a dash without a length its direction
    bool closed = false;
};

struct DashPattern {
    std::vector<double> lengths; ///< drawn, left out, drawn …; begins again when it ends
    double offset = 0;           ///< how far into the pattern the line begins
};

/// Along segments that follow each other; the dash over the start of a closed line is one. REQUIRES: lengths ≥ 0, an
/// even number of them, their sum > 0. nullopt: more than `most` dashes.
[[nodiscard]] std::optional<std::vector<Dash>> dashed(std::span<const geometry::Segment> segments, bool closed,
                                                      const DashPattern& pattern, std::size_t most);

/// Of a curve, within 1e-6 of it.
[[nodiscard]] double length_of(const geometry::Segment& segment);

} // namespace touchmark::content
