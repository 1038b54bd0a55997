// SPDX-License-Identifier: MIT
#pragma once

#include "core/geometry/outline.h"

namespace touchmark::geometry {

/// A strip of material left across a stroke, so that what stands in a counter is held.
struct Bridge {
    Vec2 at;           ///< its middle
    double width = 0;  ///< across it, mm
    double length = 0; ///< from the counter to what it hangs on, mm
};

struct Bridged {
    Outline outline;
    std::vector<std::size_t> from; ///< for each region the region of the given outline that it is a piece of
    std::vector<Bridge> bridges;
    std::size_t loose = 0; ///< counters for which no place was found
};

/// Of a shape that is cut through: every counter joined to what is around the shape by strips `width` wide. Upright
/// ones above and below it where there is room for both, so that the counter cannot twist; one where it is smaller than
/// two and a half widths. Where upright ones find no place they lie or lean. They stand where the stroke is short to
/// cross and its edges lie square to them, so that no slivers and no points are left. Contours that no strip meets stay
/// as they are, to the bit. REQUIRES: width > 0.
[[nodiscard]] Bridged bridged(const Outline& outline, double width);

} // namespace touchmark::geometry
