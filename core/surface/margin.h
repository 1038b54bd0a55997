// SPDX-License-Identifier: MIT
#pragma once

#include "core/surface/face_map.h"
#include "core/surface/segment_tree.h"

namespace touchmark::surface {

/// margin() with the trees at hand, for whoever asks again and again.
class MarginFinder {
public:
    MarginFinder(const geometry::Outline& room, const geometry::Outline& placed);
    /// Of the outline moved by `shift`.
    [[nodiscard]] Margin at(Vec2 shift) const;
    [[nodiscard]] const Box2& room_bounds() const { return room_bounds_; }
    [[nodiscard]] const Box2& mark_bounds() const { return mark_bounds_; }

private:
    [[nodiscard]] bool crosses(Vec2 shift) const;
    [[nodiscard]] Margin worst_outside(Vec2 shift) const;
    [[nodiscard]] Margin least_inside(Vec2 shift) const;

    std::vector<geometry::Polygon> room_polygons_, mark_polygons_;
    SegmentTree room_, mark_;
    Box2 room_bounds_, mark_bounds_;
};

} // namespace touchmark::surface
