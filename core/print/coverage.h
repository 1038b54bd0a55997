// SPDX-License-Identifier: MIT
#pragma once

#include "core/geometry/outline.h"
#include "core/print/field.h"

#include <span>

namespace touchmark::print {

/// Where level lines meet polygons, for lines taken in any order.
class LevelCuts {
public:
    /// `pitch`: about how far apart the lines will be, mm.
    LevelCuts(std::span<const geometry::Polygon> polygons, double pitch);
    /// Ascending x, in pairs: inside from each first to each second. Nonzero and even-odd agree on an Outline.
    [[nodiscard]] std::vector<double> at(double y) const;

private:
    struct Edge {
        Vec2 low, high;
    };
    std::vector<Edge> edges_;
    std::vector<std::vector<std::uint32_t>> rows_;
    double bottom_ = 0, pitch_;
};

/// Adds `value` times the covered share of each cell between two places, in cells, to a row.
void add_span(std::span<float> row, double from, double to, float value);

/// The share of each cell that lies in the polygons, from `lines` level lines a cell.
[[nodiscard]] Field coverage(std::span<const geometry::Polygon> polygons, const Grid& grid, int lines = 4);

} // namespace touchmark::print
