// SPDX-License-Identifier: MIT
#pragma once

#include "core/part/shape.h"
#include "core/surface/face_map.h"

#include <stdexcept>

namespace touchmark::test {

inline part::PartPtr part_of(const TopoDS_Shape& shape, const TopLoc_Location& at = {}) {
    part::Model model;
    model.products.push_back({"test", shape, {}, {}, {}});
    model.roots.push_back({0, at, "test", {}});
    auto part = part::make_part(std::move(model), {}, Progress());
    if (!part) throw std::runtime_error(part.error().message);
    return *part;
}

/// The map of the flat face whose normal is nearest to `side`.
inline surface::FaceMapPtr map_of(const part::Part& part, Vec3 side) {
    int best = 0;
    double most = -2;
    for (const part::Face& face : part.faces())
        if (face.kind == part::FaceKind::plane && dot(face.frame.z, side) > most + 1e-9) {
            most = dot(face.frame.z, side);
            best = face.index;
        }
    auto map = surface::map_face(part, best);
    if (!map) throw std::runtime_error(map.error().message);
    return *map;
}

inline geometry::Outline block(Vec2 low, Vec2 high) {
    const geometry::Polygon corners{low, {high.x, low.y}, high, {low.x, high.y}};
    return {{{geometry::contour_of(corners), {}}}};
}

} // namespace touchmark::test
