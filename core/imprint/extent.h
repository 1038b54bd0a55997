// SPDX-License-Identifier: MIT
#pragma once

#include "core/imprint/imprint.h"
#include "core/imprint/wall_shape.h"

#include <cmath>
#include <numbers>
#include <optional>

namespace touchmark::imprint {

/// Heights over the face, positive out of the material, between which a mark changes the solid.
struct Extent {
    double low = 0, high = 0;
    /// What is farthest from the face.
    [[nodiscard]] double reach() const { return low < 0 ? low : high; }
};

/// REQUIRES: not Mode::through, whose depth is the wall's. `scale`: for a depth in the product's own mm.
[[nodiscard]] inline Extent extent_of(const Footprint& mark, double scale = 1) {
    const double depth = mark.depth.value * scale, cover = mark.cover.value * scale;
    switch (mark.mode) {
    case Mode::raise:
        return {0, depth};
    case Mode::hidden:
        return {-cover - depth, -cover};
    default:
        return {-depth, 0};
    }
}

/// Whether walls and floor of the mode can be shaped.
[[nodiscard]] inline bool has_shaped_walls(Mode mode) {
    return mode == Mode::engrave || mode == Mode::raise || mode == Mode::inlay;
}

/// A plain cut that goes as deep: what a void, with all that lies over it, or a pocket takes of the part.
/// REQUIRES: the mode takes material away, and is not Mode::through.
[[nodiscard]] inline Footprint as_cut(Footprint mark) {
    mark.depth = Mm(-extent_of(mark).low);
    if (mark.mode != Mode::engrave) mark.floor = Floor::offset;
    if (!has_shaped_walls(mark.mode)) {
        mark.draft = Degrees(0);
        mark.floor_rounding = Mm(0);
    }
    mark.mode = Mode::engrave;
    return mark;
}

/// Of a mark whose walls are not plain.
[[nodiscard]] inline std::optional<WallShape> shape_of(const Footprint& mark, double scale = 1) {
    if (!has_shaped_walls(mark.mode)) return std::nullopt;
    const WallShape shape{mark.depth.value * scale, std::tan(mark.draft.value * std::numbers::pi / 180),
                          mark.mode == Mode::raise ? 0.0 : mark.floor_rounding.value * scale};
    return shape.is_plain() ? std::nullopt : std::optional(shape);
}

[[nodiscard]] inline bool takes_away(Mode mode) {
    return mode != Mode::raise;
}

} // namespace touchmark::imprint
