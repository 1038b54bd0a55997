// SPDX-License-Identifier: MIT
#include "core/geometry/nesting.h"

#include "core/geometry/bezier.h"

#include <cmath>

namespace touchmark::geometry {

WindingField::WindingField(std::span<const Contour> contours) : contours_(contours) {
    boxes_.reserve(contours.size());
    for (const Contour& contour : contours)
        boxes_.push_back(bounds(contour));
}

int WindingField::of(std::size_t contour, Vec2 p) const {
    return winding(contours_[contour], p);
}

Outline nested(std::vector<Contour> contours) {
    constexpr std::size_t none = static_cast<std::size_t>(-1);
    std::vector<double> areas;
    std::vector<Box2> boxes;
    for (const Contour& contour : contours) {
        areas.push_back(area(contour));
        boxes.push_back(bounds(contour));
    }
    Outline outline;
    std::vector<std::size_t> region(contours.size(), none), outers;
    for (std::size_t i = 0; i < contours.size(); ++i) {
        if (areas[i] <= 0) continue;
        region[i] = outline.regions.size();
        outers.push_back(i);
        outline.regions.push_back({contours[i], {}});
    }
    for (std::size_t i = 0; i < contours.size(); ++i) {
        if (areas[i] >= 0) continue;
        const Vec2 p = contours[i].segments.front().start();
        std::size_t parent = none;
        for (const std::size_t outer : outers) {
            const Box2& box = boxes[outer];
            if (p.x < box.low.x || p.x > box.high.x || p.y < box.low.y || p.y > box.high.y) continue;
            if (parent != none && areas[outer] >= areas[parent]) continue;
            if (winding(contours[outer], p) != 0) parent = outer;
        }
        if (parent != none) outline.regions[region[parent]].holes.push_back(std::move(contours[i]));
    }
    return outline;
}

} // namespace touchmark::geometry
