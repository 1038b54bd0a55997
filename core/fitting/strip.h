// SPDX-License-Identifier: MIT
#pragma once

#include "core/content/fonts.h"
#include "core/fitting/items.h"
#include "core/job/job.h"

namespace touchmark::fitting {

/// The test strip of a process: a part without marks, and the job that puts its items on it. Items are marks of their
/// names; what labels them are marks too. The steps of the wedge are the part's own.
struct Strip {
    part::PartPtr blank;
    job::Job job; ///< its part has no file yet
    std::vector<Item> items;
    double blank_mm3 = 0; ///< volume, by the blocks that it is made of
};

/// Errors: "print.no_figures", those of part::block_part() and of drawing, "cancelled".
[[nodiscard]] Result<Strip> strip_for(const process::Process& process, const Progress& progress);

/// The message of a code and the letters of a text on the strip.
[[nodiscard]] std::string said_on(const Item& item);

} // namespace touchmark::fitting
