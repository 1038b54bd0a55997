// SPDX-License-Identifier: MIT
#pragma once

// Walls that lean and are rounded at the floor, seen from the side.

#include "core/geometry/inset.h"

#include <vector>

namespace touchmark::imprint {

/// Of the walls between a flat face and the floor (or roof) of a mark. All lengths in the product's mm.
struct WallShape {
    double depth = 0;    ///< of the floor under the face, or of the roof over it; > 0
    double slope = 0;    ///< tan of the draft angle: the floor is smaller than the outline
    double rounding = 0; ///< radius between wall and floor; of cuts only

    [[nodiscard]] bool is_plain() const { return slope <= 0 && rounding <= 0; }
    /// How far the floor's edge lies inside the outline.
    [[nodiscard]] double reach() const;
};

/// A contour of the walls: the outline drawn in by `inset`, so deep.
struct WallLevel {
    double depth = 0, inset = 0;
};

/// A stretch of the walls from one level to the next, straight or an arc; q runs along it: mm, or the angle φ of the
/// arc, which is its centre − radius · (cos φ, sin φ) in (inset, −depth).
struct WallBand {
    WallLevel from, to;
    bool round = false;
    double radius = 0;
    WallLevel centre;
    double q_from = 0, q_to = 0;

    [[nodiscard]] WallLevel at(double q) const;
    [[nodiscard]] bool upright() const { return !round && from.inset == to.inset; }
};

/// From `above` the face (for a tool that is to reach over it) down to the floor.
[[nodiscard]] std::vector<WallBand> bands_of(const WallShape& shape, double above = 0);

/// What lies between the face and the floor, mm³, from the outline alone.
[[nodiscard]] double shaped_volume(const geometry::InsetRegion& region, const WallShape& shape);

} // namespace touchmark::imprint
