// SPDX-License-Identifier: MIT
#pragma once

#include "core/geometry/outline.h"

#include <cstdint>

namespace touchmark::test {

/// A grey picture, row 0 at the top; 0 where the outline covers the pixel's centre, 255 elsewhere.
struct Picture {
    int width = 0, height = 0;
    std::vector<std::uint8_t> pixels;
};

/// By scan lines and crossing numbers over the flattened contours: nothing of the program's own point location.
[[nodiscard]] Picture picture_of(const geometry::Outline& outline, const Box2& frame, double pixels_per_mm);
[[nodiscard]] Picture inverted(Picture picture);

} // namespace touchmark::test
