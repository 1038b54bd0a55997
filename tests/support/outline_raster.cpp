// SPDX-License-Identifier: MIT
#include "tests/support/outline_raster.h"

#include <algorithm>
#include <cmath>

namespace touchmark::test {

Picture picture_of(const geometry::Outline& outline, const Box2& frame, double pixels_per_mm) {
    Picture picture;
    picture.width = static_cast<int>(std::lround((frame.high.x - frame.low.x) * pixels_per_mm));
    picture.height = static_cast<int>(std::lround((frame.high.y - frame.low.y) * pixels_per_mm));
    picture.pixels.assign(std::size_t(picture.width) * std::size_t(picture.height), 255);
    std::vector<std::vector<double>> crossings(static_cast<std::size_t>(picture.height));
    for (const geometry::Polygon& polygon : geometry::flattened(outline, 0.1 / pixels_per_mm))
        for (std::size_t i = 0; i < polygon.size(); ++i) {
            const auto to_pixels = [&](Vec2 p) {
                return Vec2{(p.x - frame.low.x) * pixels_per_mm, (frame.high.y - p.y) * pixels_per_mm};
            };
            Vec2 a = to_pixels(polygon[i]), b = to_pixels(polygon[(i + 1) % polygon.size()]);
            if (a.y > b.y) std::swap(a, b);
            const int first = std::max(0, static_cast<int>(std::ceil(a.y - 0.5)));
            const int last = std::min(picture.height - 1, static_cast<int>(std::ceil(b.y - 0.5)) - 1);
            for (int row = first; row <= last; ++row)
                crossings[static_cast<std::size_t>(row)].push_back(a.x + (row + 0.5 - a.y) / (b.y - a.y) * (b.x - a.x));
        }
    for (int row = 0; row < picture.height; ++row) {
        auto& at = crossings[static_cast<std::size_t>(row)];
        std::ranges::sort(at);
        for (std::size_t k = 0; k + 1 < at.size(); k += 2) {
            const int first = std::max(0, static_cast<int>(std::ceil(at[k] - 0.5)));
            const int last = std::min(picture.width, static_cast<int>(std::ceil(at[k + 1] - 0.5)));
            for (int column = first; column < last; ++column)
                picture.pixels[std::size_t(row) * std::size_t(picture.width) + std::size_t(column)] = 0;
        }
    }
    return picture;
}

Picture inverted(Picture picture) {
    for (std::uint8_t& pixel : picture.pixels)
        pixel = static_cast<std::uint8_t>(255 - pixel);
    return picture;
}

} // namespace touchmark::test
