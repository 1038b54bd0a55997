// SPDX-License-Identifier: MIT
#pragma once

// Regions are built side by side on all processors: they share nothing but the surfaces that they stand between.

#include "core/base/parallel.h"
#include "core/imprint/planar_walls.h"

#include <iterator>

namespace touchmark::imprint {

/// `build(i, walls)` adds region i to `walls`; the result has them in order.
template <class Build> [[nodiscard]] Walls walls_of_regions(std::size_t count, Build&& build) {
    std::vector<Walls> pieces(count);
    constexpr std::size_t worth_threads = 8;
    const auto one = [&](std::size_t i, std::size_t) { build(i, pieces[i]); };
    if (count < worth_threads)
        for (std::size_t i = 0; i < count; ++i)
            one(i, 0);
    else
        side_by_side(count, one);
    Walls out;
    const auto append = [](auto& to, auto& from) { std::ranges::move(from, std::back_inserter(to)); };
    for (Walls& piece : pieces) {
        append(out.walls, piece.walls);
        append(out.floors, piece.floors);
        append(out.rims, piece.rims);
    }
    return out;
}

} // namespace touchmark::imprint
