// SPDX-License-Identifier: MIT
#pragma once

#include "core/imprint/imprint.h"
#include "core/job/job.h"

namespace touchmark::pipeline {

/// Tells the second material of an inlay from the first.
inline constexpr part::Colour inlay_colour{0.12F, 0.13F, 0.15F};

/// The mark as it goes onto the solid: `placed` is its outline on the map.
[[nodiscard]] inline imprint::Footprint footprint_of(const job::Mark& mark, surface::FaceMapPtr map,
                                                     geometry::Outline placed) {
    return {.name = mark.name,
            .map = std::move(map),
            .outline = std::move(placed),
            .mode = mark.mode,
            .depth = mark.depth,
            .colour = mark.mode == Mode::inlay ? std::optional(inlay_colour) : std::nullopt,
            .cover = mark.cover,
            .floor = mark.floor,
            .anchor = mark.anchor.at,
            .draft = mark.draft,
            .floor_rounding = mark.floor_rounding};
}

} // namespace touchmark::pipeline
