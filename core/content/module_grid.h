// SPDX-License-Identifier: MIT
#pragma once

#include "core/geometry/outline.h"

#include <cstdint>

namespace touchmark::content {

/// The modules of a code, row 0 at the top. True: the module belongs to the mark.
struct ModuleGrid {
    int columns = 0, rows = 0;
    std::vector<std::uint8_t> set; ///< columns × rows, row by row

    ModuleGrid(int wide, int high) : columns(wide), rows(high), set(std::size_t(wide) * std::size_t(high)) {}
    [[nodiscard]] bool at(int column, int row) const {
        return column >= 0 && row >= 0 && column < columns && row < rows && set[index(column, row)] != 0;
    }
    void put(int column, int row, bool value) { set[index(column, row)] = value; }
    /// Into `set`.
    [[nodiscard]] std::size_t index(int column, int row) const {
        return std::size_t(row) * std::size_t(columns) + std::size_t(column);
    }
};

struct ModuleSize {
    double width = 1, height = 1; ///< mm
    /// Where two modules of the mark meet only at a corner, they are joined by a neck: the corners of the two modules
    /// between them are cut off by this share of a module. 0 < share < 0.5.
    double corner = 0.15;
};

/// Where a corner of the grid is, or with halves the middle of a module: mm about the grid's centre, y up.
[[nodiscard]] Vec2 place_in(const ModuleGrid& grid, const ModuleSize& size, double column, double row);

/// Touching modules become one region with exact right angles; the grid's centre is the origin, y up. Regions obey the
/// invariants of an Outline by construction: nothing is united or compared, so that a large symbol costs its area.
[[nodiscard]] geometry::Outline outline_of(const ModuleGrid& grid, const ModuleSize& size);

/// The same modules as grooves that run up and down, so many side by side in each module, each `share` of their
/// distance wide; modules on top of each other share theirs. REQUIRES: grooves ≥ 1, 0 < share < 1.
[[nodiscard]] geometry::Outline grooves_of(const ModuleGrid& grid, const ModuleSize& size, int grooves, double share);

} // namespace touchmark::content
