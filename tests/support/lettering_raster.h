// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/vector.h"

#include <cstdint>
#include <filesystem>
#include <string_view>
#include <vector>

namespace touchmark::test {

/// A picture of one line of text in one direction and script, shaped by HarfBuzz with its own guess of both and filled
/// by FreeType's rasteriser: independent of touchmark's shaping of lines and of its geometry.
struct LetteringRaster {
    int width = 0, height = 0;
    std::vector<std::uint8_t> coverage; ///< 0…255, rows from the bottom up
    double pixel = 0;                   ///< mm
    Vec2 low;                           ///< lower left corner, from the centre of the lettering's box, mm
    double box_width = 0, box_height = 0;

    [[nodiscard]] double area() const; ///< mm²
    [[nodiscard]] Vec2 centre_of(int column, int row) const {
        return low + Vec2{(column + 0.5) * pixel, (row + 0.5) * pixel};
    }
};

[[nodiscard]] LetteringRaster lettering_raster(const std::filesystem::path& font, std::string_view text,
                                               double cap_height, double pixel);

} // namespace touchmark::test
