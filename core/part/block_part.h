// SPDX-License-Identifier: MIT
#pragma once

#include "core/part/part.h"

#include <span>

namespace touchmark::part {

/// A part of one solid: all the blocks together, with one face where their faces go on in each other. No file is
/// behind it; its digest names the blocks. Errors: "part.blocks" (none, one without a volume, or they are not one
/// valid solid), "cancelled".
[[nodiscard]] Result<PartPtr> block_part(std::string name, std::span<const Box3> blocks, const Progress& progress);

} // namespace touchmark::part
