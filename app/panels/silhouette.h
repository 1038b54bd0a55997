// SPDX-License-Identifier: MIT
#pragma once

#include "core/plate/plate.h"

#include <QImage>

namespace touchmark::panels {

/// The part seen from the front as it stands, as coverage: what a shadow on the wall behind it would show.
struct Silhouette {
    QImage coverage;    ///< Format_Alpha8, top row highest
    double left_mm = 0; ///< plate x of the image's left edge
    double width_mm = 0, height_mm = 0;
};

/// Every triangle projected and filled; linear in triangles and pixels. Empty for no meshes.
[[nodiscard]] Silhouette silhouette_of(const plate::Meshes& meshes, const plate::Placement& placement, int pixel_height,
                                       const Progress& progress);

} // namespace touchmark::panels
