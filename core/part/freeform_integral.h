// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/vector.h"

#include <BRepAdaptor_Surface.hxx>
#include <TopoDS_Face.hxx>

#include <optional>

namespace touchmark::part {

/// ∫ over a face of 1, of (point − about)·(∂u × ∂v) and of point − about.
struct SurfaceSum {
    double area = 0, volume = 0;
    Vec3 moment;

    void add(double weight, const SurfaceSum& other) {
        area += weight * other.area;
        volume += weight * other.volume;
        moment = moment + other.moment * weight;
    }
};

/// Over a face of any surface, which must know the face's range. nullopt when an edge has no curve in the parameter
/// plane.
[[nodiscard]] std::optional<SurfaceSum> integrate_freeform(const TopoDS_Face& face, const BRepAdaptor_Surface& surface,
                                                           const Vec3& about);

} // namespace touchmark::part
