// SPDX-License-Identifier: MIT
#pragma once

#include "core/print/simulate.h"

#include <span>

namespace touchmark::print {

/// How much of one piece of a mark (a letter, a part of a drawing) is there after printing; no reader is needed to
/// tell.
struct Fidelity {
    double strokes = 1; ///< share of the strokes' middle lines that came out at least half as deep as planned
    double gaps = 1;    ///< share of the middle lines between them that stayed open, by their width, in the piece's box
    double depth = 1;   ///< mean share of the depth along the strokes' middle lines
    double overlap = 1; ///< area that both the printed and the planned piece cover, over the area that either does
    Vec2 worst;         ///< where most is missing along a middle line, mark mm

    /// The least of the three that a reader needs.
    [[nodiscard]] double figure() const;
};

/// From which figure on a piece reads, and below which it does not. Assumed: where a person begins to hesitate between
/// two letters has not been measured on prints.
inline constexpr double reads_from = 0.85, lost_below = 0.6;

/// One entry a box: the pieces' boxes in the mark's mm.
[[nodiscard]] std::vector<Fidelity> fidelity_of(const Printed& printed, std::span<const Box2> pieces);

} // namespace touchmark::print
