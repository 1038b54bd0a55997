// SPDX-License-Identifier: MIT
#pragma once

#include "core/print/simulate.h"

#include <span>

namespace touchmark::print {

/// How much of one piece of a mark (a letter, a part of a drawing) is there after printing; no reader is needed to
/// tell.
struct Fidelity {
    /// Share of the strokes' middle lines that came out nine tenths as deep as planned; of voids, eight tenths: there
    /// the light counts, not the depth.
    double strokes = 1;
    double gaps = 1;    ///< share of the middle lines between them that stayed open, by their width, in the piece's box
    double depth = 1;   ///< mean share of the depth along the strokes' middle lines
    double overlap = 1; ///< area that both the printed and the planned piece cover, over the area that either does
    Vec2 worst;         ///< where most is missing along a middle line, mark mm

    /// The least of the three that a reader needs.
    [[nodiscard]] double figure() const;
};

/// From which figure on a piece reads, and below which it is lost: who misses a fifth of a letter's strokes takes it
/// for another. Assumed: where a person begins to hesitate between two letters has not been measured on prints.
inline constexpr double reads_from = 0.9, lost_below = 0.8;

/// Of the depth, what is taken for a stroke that came out. Chosen so that with a 0.4 mm nozzle strokes cut into a wall
/// come out from 0.5 mm on, as the trade has it (common practice, no source).
inline constexpr double relief_came_out = 0.9, void_came_out = 0.8;

/// One entry a box: the pieces' boxes in the mark's mm.
[[nodiscard]] std::vector<Fidelity> fidelity_of(const Printed& printed, std::span<const Box2> pieces,
                                                double came_out = relief_came_out);

} // namespace touchmark::print
