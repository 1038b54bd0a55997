// SPDX-License-Identifier: MIT
#pragma once

// The two ways in which layers_of() finds a mark's layers. Internal to print.

#include "core/print/layers.h"
#include "core/print/models.h"

namespace touchmark::print {

[[nodiscard]] Status flat_regions(const Bench& bench, const LayersOptions& options, Layers& out,
                                  const Progress& progress);
[[nodiscard]] Status section_regions(const Bench& bench, const LayersOptions& options, Layers& out,
                                     const Progress& progress);

/// Adds what follows from the counts, the path and the travels.
void time_layer(const Bench& bench, Layer& layer);

/// The way from one to the nearest that is left, begun at the lowest, then leftmost one.
[[nodiscard]] double tour_length(std::vector<Vec2> places);

} // namespace touchmark::print
