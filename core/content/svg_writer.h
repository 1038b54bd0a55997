// SPDX-License-Identifier: MIT
#pragma once

#include "core/geometry/outline.h"

#include <string>

namespace touchmark::content {

/// Path data with y down; every contour closed, to be filled nonzero. Numbers to a tenth of a micrometre.
[[nodiscard]] std::string path_data(const geometry::Outline& outline);

/// A whole SVG file in millimetres: width, height and view box are those of `extent`.
[[nodiscard]] std::string to_svg(const geometry::Outline& outline, const Box2& extent);

} // namespace touchmark::content
