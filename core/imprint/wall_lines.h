// SPDX-License-Identifier: MIT
#pragma once

// Leaning and rounded walls as polygons, for drawing.

#include "core/imprint/wall_shape.h"

#include <optional>

namespace touchmark::imprint {

/// A contour from the face down to the floor, each line with as many points as the others.
struct WallLine {
    double depth = 0;
    geometry::Polygon points;
};
/// `flat`: mm that they may be off the curves. nullopt where the walls would meet before the floor.
[[nodiscard]] std::optional<std::vector<WallLine>> wall_lines(const geometry::Contour& contour, const WallShape& shape,
                                                              double flat);

} // namespace touchmark::imprint
