// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/result.h"
#include "core/fitting/items.h"

#include <optional>

namespace touchmark::fitting {

/// What a shop says of one item, one row of the sheet.
struct Seen {
    std::size_t item = 0; ///< of the strip's items
    std::size_t line = 0; ///< of the sheet, from 1
    /// So many strips were looked at, and on so many of them the item came out: both 0 where it was not looked at. A
    /// code came out where a reader reads it, a text where both letters are read.
    int printed = 0, came_out = 0;
    std::vector<double> measured_mm{}; ///< width of a stroke or gap, thickness of a step: one or more readings
    std::optional<double> light{};     ///< share that came through a step, 0 < light ≤ 1
};

/// A sheet as filled in; rows that say nothing are left out.
struct Sheet {
    std::vector<Seen> seen;
};

/// The empty sheet: comma-separated values, UTF-8, one row an item. Lines that begin with # explain it.
[[nodiscard]] std::string empty_sheet(const process::Process& process, std::span<const Item> items);

/// Strict, for a wrong figure would be fitted. Commas, semicolons or tabs part the columns, as a spreadsheet saves
/// them; where a number has a comma it is its decimal point. An item may have several rows, or none. Errors:
/// "fitting.sheet" (naming the line and the item), "fitting.other_strip" (an item that this process's strip does not
/// have in that size), those of content::Table.
[[nodiscard]] Result<Sheet> read_sheet(std::string bytes, std::span<const Item> items);

} // namespace touchmark::fitting
