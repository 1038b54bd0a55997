// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/vector.h"

#include <span>

namespace touchmark::surface {

struct StraightEdge {
    Vec2 direction; ///< unit
    double length = 0;
};

/// The x axis of a mark in the plane of `frame`, z out of the material: along the longest straight edge or across it,
/// whichever leaves y nearest to up. Of equals the one that rises to the right.
[[nodiscard]] Vec3 reading_direction(const Frame& frame, std::span<const StraightEdge> edges);

} // namespace touchmark::surface
