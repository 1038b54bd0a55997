// SPDX-License-Identifier: MIT
#pragma once

#include "core/content/drawing.h"

namespace touchmark::content::dxf {

/// Segments that follow each other.
struct Line {
    std::vector<geometry::Segment> segments;
    bool closed = false;
};

/// Lines whose ends meet become loops, in whatever order and direction they were drawn; what stays open encloses
/// nothing and is noted.
[[nodiscard]] std::vector<geometry::Contour> loops(std::vector<Line> lines, std::vector<Note>& notes);

} // namespace touchmark::content::dxf
