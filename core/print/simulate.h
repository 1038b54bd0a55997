// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/progress.h"
#include "core/base/words.h"
#include "core/geometry/outline.h"
#include "core/print/field.h"
#include "core/print/rise.h"
#include "core/process/process.h"

namespace touchmark::print {

/// How a mark stands to the layers that print it.
struct Standing {
    Mode mode = Mode::engrave;
    Zone zone = Zone::side_wall;
    Mm depth{0.5};        ///< of the cut, height of what is raised or of the void
    Vec2 up{0, 1};        ///< the mark's direction in which layers follow each other; unit. On top and bottom any.
    Degrees incline{90};  ///< between the outward normal and straight up: 90 on an upright wall
    Mm first_layer_at{0}; ///< where a layer begins, as a place along `up` through the mark's origin
    /// Over the mark's origin, along `up`: where the face is curved that way, layers are not all of one width on it.
    Rise rise{};
};

/// What comes out of the nozzle, as a height field over the mark. A geometric model: it knows widths, layers, overhang
/// and the first layer's spread; it does not know strings, seams, warping, adhesion or colour.
struct Printed {
    /// mm over the nominal face; negative in a cut. Of a hidden mark the height of the void. The grid's frame is the
    /// mark's, turned so that layers run level; see from_mark.
    Field relief;
    Field ideal;                  ///< share of each cell that the outline covers
    double depth = 0;             ///< mm that a wide stroke comes out deep: whole layers on top and bottom
    int layers = 0;               ///< that take part in it
    geometry::Affine from_mark;   ///< the mark's mm → the grid's
    std::size_t islands = 0;      ///< of material that the nozzle draws by themselves, in one layer
    std::size_t lost_islands = 0; ///< that would come off the plate

    /// The mark's mm of a place in the grid: a rotation's transpose turns back.
    [[nodiscard]] Vec2 to_mark(Vec2 p) const {
        return {from_mark.xx * p.x + from_mark.yx * p.y, from_mark.xy * p.x + from_mark.yy * p.y};
    }
    /// Share of the depth that is there: 1 where it is all there, 0 on the face itself.
    [[nodiscard]] double retained(double relief_mm) const { return depth > 0 ? std::abs(relief_mm) / depth : 0; }
};

/// Works in cells of 0.05 mm, coarser where the mark is larger than four million of them. Errors: "print.no_figures"
/// (the profile has none for printing), "print.empty", "print.too_large", "cancelled".
[[nodiscard]] Result<Printed> simulate(const geometry::Outline& outline, const Standing& standing,
                                       const process::Process& process, const Progress& progress);

/// Whether layers are seen as lines on the face, or the face lies within a layer.
[[nodiscard]] bool is_layered(Zone zone);

} // namespace touchmark::print
