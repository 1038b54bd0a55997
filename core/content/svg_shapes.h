// SPDX-License-Identifier: MIT
#pragma once

#include "core/content/svg_document.h"
#include "core/content/svg_values.h"

namespace touchmark::content::svg {

/// path, rect, circle, ellipse, line, polyline, polygon
[[nodiscard]] bool is_shape(std::string_view element);

struct Room {
    double width = 0, height = 0, font_size = 16;
};
/// A shape as paths (SVG 2, chapter 10). Attributes without a length count as absent.
[[nodiscard]] PathData shape_of(const Element& element, const Room& room);

/// As filling sees them: open ones closed by a line; paths without an area vanish.
[[nodiscard]] std::vector<geometry::Contour> closed_contours(const std::vector<SubPath>& paths,
                                                             const geometry::Affine& map);

/// From a view box to a room of this size, by preserveAspectRatio (SVG 2, 8.7).
[[nodiscard]] geometry::Affine fitted(const Box2& box, double width, double height, std::string_view fit);

} // namespace touchmark::content::svg
