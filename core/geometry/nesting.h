// SPDX-License-Identifier: MIT
#pragma once

#include "core/geometry/outline.h"

namespace touchmark::geometry {

/// Winding numbers of contours around points of each other, for contours that do not cross.
class WindingField {
public:
    explicit WindingField(std::span<const Contour> contours);

    /// Of all contours around p, except those for which `skip(index)` holds.
    template <class Skip> [[nodiscard]] int around(Vec2 p, Skip&& skip) const {
        int sum = 0;
        for (std::size_t i = 0; i < contours_.size(); ++i)
            if (holds(i, p) && !skip(i)) sum += of(i, p);
        return sum;
    }
    [[nodiscard]] int of(std::size_t contour, Vec2 p) const;

private:
    [[nodiscard]] bool holds(std::size_t i, Vec2 p) const {
        const Box2& box = boxes_[i];
        return p.x >= box.low.x && p.x <= box.high.x && p.y >= box.low.y && p.y <= box.high.y;
    }
    std::span<const Contour> contours_;
    std::vector<Box2> boxes_;
};

/// Contours that neither cross nor touch, material on the left of each → regions with their holes. Order is kept.
[[nodiscard]] Outline nested(std::vector<Contour> contours);

} // namespace touchmark::geometry
