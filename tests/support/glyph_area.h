// SPDX-License-Identifier: MIT
#pragma once

#include <filesystem>
#include <string>
#include <string_view>

namespace touchmark::test {

/// Area in mm² of a line of ASCII letters whose contours do not overlap, cap height in mm, computed by HarfBuzz's own
/// OpenType parser and Green's theorem in closed form for each Bézier: independent of the FreeType outlines and of
/// touchmark's geometry. `variations`: axes of a variable font, "wght=650,slnt=-5".
[[nodiscard]] double lettering_area(const std::filesystem::path& font, std::string_view letters, double cap_height,
                                    const std::string& variations = {});

} // namespace touchmark::test
