// SPDX-License-Identifier: MIT
#pragma once

#include "core/content/drawing.h"

namespace touchmark::content::dxf {

/// Segments that follow each other.
struct Line {
    std::vector<geometry::Segment> segments;
    bool closed = false;
    double weight = 0; ///< the width that it is plotted with, mm; 0: none of its own
};

struct Loops {
    std::vector<geometry::Contour> closed;
    std::vector<Line> open;
};
/// Lines whose ends meet become loops, in whatever order and direction they were drawn. What stays open encloses
/// nothing: it is noted unless it has a width.
[[nodiscard]] Loops loops(std::vector<Line> lines, std::vector<Note>& notes);

} // namespace touchmark::content::dxf
