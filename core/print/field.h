// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/parallel.h"
#include "core/base/vector.h"

#include <algorithm>
#include <cstddef>
#include <vector>

namespace touchmark::print {

/// Where the cells of a field lie: mm of the frame in which the layers run level, row 0 at the bottom.
struct Grid {
    int columns = 0, rows = 0;
    Vec2 low;                      ///< lower left corner of the first cell
    double step_x = 1, step_y = 1; ///< mm

    [[nodiscard]] Vec2 middle(int column, int row) const {
        return {low.x + (column + 0.5) * step_x, low.y + (row + 0.5) * step_y};
    }
    [[nodiscard]] std::size_t cells() const {
        return static_cast<std::size_t>(columns) * static_cast<std::size_t>(rows);
    }
    [[nodiscard]] std::size_t index(int column, int row) const {
        return static_cast<std::size_t>(row) * static_cast<std::size_t>(columns) + static_cast<std::size_t>(column);
    }
    friend bool operator==(const Grid&, const Grid&) = default;
};

/// One figure a cell.
struct Field {
    Grid grid;
    std::vector<float> values;

    Field() = default;
    explicit Field(const Grid& where, float value = 0) : grid(where), values(where.cells(), value) {}
    [[nodiscard]] float& at(int column, int row) { return values[grid.index(column, row)]; }
    [[nodiscard]] float at(int column, int row) const { return values[grid.index(column, row)]; }
    /// Between the middles of cells; beyond the edge as at the edge.
    [[nodiscard]] double value(Vec2 p) const;
};

/// Calls `work(first, last)` for rows that make up the grid's, side by side where it is large.
template <class Work> void in_rows(const Grid& grid, Work&& work) {
    constexpr int least = 16'384; // cells for which a thread is worth its start
    in_stretches(static_cast<std::size_t>(std::max(grid.rows, 0)),
                 static_cast<std::size_t>(least / std::max(grid.columns, 1) + 1),
                 [&](std::size_t first, std::size_t last) { work(static_cast<int>(first), static_cast<int>(last)); });
}

/// Blurred by a Gaussian with standard deviations in mm; beyond the edge it goes on as at the edge.
[[nodiscard]] Field blurred(Field field, double sigma_x, double sigma_y);

} // namespace touchmark::print
