// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/result.h"
#include "core/geometry/contour.h"

#include <span>

namespace touchmark::content {

enum class LineCap { butt, round, square };
enum class LineJoin { miter, round, bevel };

struct StrokeStyle {
    double width = 1;
    LineCap cap = LineCap::butt;
    LineJoin join = LineJoin::miter;
    double miter_limit = 4; ///< beyond it a miter becomes a bevel
    /// How far the curves beside the line may lie from the exact offset, in the unit of the width.
    double tolerance = 1e-4;
};

/// What a pen of this width covers along segments that follow each other: closed contours that overlap and touch, each
/// with its material on the left, to be filled nonzero. No segment (or none with a length): a dot where the cap has an
/// area, at `start`.
[[nodiscard]] Result<std::vector<geometry::Contour>> stroked(Vec2 start, std::span<const geometry::Segment> segments,
                                                             bool closed, const StrokeStyle& style);

} // namespace touchmark::content
