// SPDX-License-Identifier: MIT
#pragma once

#include "core/surface/face_map.h"

namespace touchmark::surface {

/// Lengths on the face over those of the mark, the smallest and the largest in any direction under an outline.
struct Stretch {
    double least = 1, most = 1;
    Vec2 at; ///< where it is farthest from 1, map mm

    /// How far from 1, as a part of it.
    [[nodiscard]] double departure() const { return most - 1 > 1 - least ? most - 1 : 1 - least; }
};
/// 1 on planes, cylinders and cones.
[[nodiscard]] Stretch stretch_under(const FaceMap& map, const geometry::Outline& placed);

} // namespace touchmark::surface
