// SPDX-License-Identifier: MIT
#pragma once

#include "core/content/content.h"

namespace touchmark::content {

/// The regions of one piece, where they are in the content.
[[nodiscard]] inline geometry::Outline outline_of(const Drawn& drawn, const Piece& piece) {
    const auto first = drawn.outline.regions.begin() + static_cast<std::ptrdiff_t>(piece.first_region);
    return {{first, first + static_cast<std::ptrdiff_t>(piece.region_count)}};
}

} // namespace touchmark::content
