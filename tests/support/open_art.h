// SPDX-License-Identifier: MIT
#pragma once

#include <filesystem>
#include <string_view>
#include <vector>

namespace touchmark::test {

/// The drawings of an open icon set ("lines", "fills"), by name; fetched by tests/support/fetch_open_art into the
/// folder that the environment variable TOUCHMARK_OPEN_ART names. Throws std::runtime_error when there is none.
[[nodiscard]] std::vector<std::filesystem::path> open_art(std::string_view set);

/// What librsvg paints of an SVG file: the area in square millimetres that is covered, by the alpha of a picture this
/// many pixels wide, and the width of the page in millimetres is `page_mm`. Throws when the renderer is missing.
[[nodiscard]] double rendered_area(const std::filesystem::path& svg, double page_mm, int pixels);

} // namespace touchmark::test
