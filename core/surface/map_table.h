// SPDX-License-Identifier: MIT
#pragma once

#include "core/surface/face_map.h"

#include <span>

namespace touchmark::surface {

/// A kind of surface that can carry a mark. New kinds: one file with one function, one row in map_table.cpp.
struct MapKind {
    part::FaceKind kind;
    Result<FaceMapPtr> (*map)(const part::Part& part, const part::Face& face);
};
[[nodiscard]] std::span<const MapKind> map_kinds();

[[nodiscard]] Result<FaceMapPtr> map_plane(const part::Part& part, const part::Face& face);
[[nodiscard]] Result<FaceMapPtr> map_cylinder(const part::Part& part, const part::Face& face);
[[nodiscard]] Result<FaceMapPtr> map_cone(const part::Part& part, const part::Face& face);
[[nodiscard]] Result<FaceMapPtr> map_sphere(const part::Part& part, const part::Face& face);
[[nodiscard]] Result<FaceMapPtr> map_torus(const part::Part& part, const part::Face& face);
[[nodiscard]] Result<FaceMapPtr> map_freeform(const part::Part& part, const part::Face& face);

} // namespace touchmark::surface
