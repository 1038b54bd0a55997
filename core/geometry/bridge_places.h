// SPDX-License-Identifier: MIT
#pragma once

#include "core/geometry/bridges.h"

#include <optional>

/// Where a counter's bridge may stand; for bridges.cpp.
namespace touchmark::geometry {

struct BridgePlace {
    Bridge bridge;
    Polygon strip;          ///< counter-clockwise, reaching a little into what is free at both ends
    std::size_t hole = 0;   ///< that it holds
    std::size_t target = 0; ///< 0: what is around the shape; else hole number target - 1
    double cost = 0;        ///< less is better
};

/// Of one region. Flattens its contours once.
class BridgeFinder {
public:
    BridgeFinder(const Region& region, double width);
    /// The best place for a strip that leaves the hole in that direction, degrees counter-clockwise from the right.
    [[nodiscard]] std::optional<BridgePlace> best(std::size_t hole, double direction) const;
    /// Whether two strips have no room in the hole.
    [[nodiscard]] bool is_small(std::size_t hole) const;
    [[nodiscard]] Vec2 centre(std::size_t hole) const;

private:
    std::vector<Polygon> contours_; ///< the outer one first
    double width_;
};

} // namespace touchmark::geometry
