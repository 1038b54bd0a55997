// SPDX-License-Identifier: MIT
#pragma once

#include "core/plate/plate.h"

namespace touchmark::test {

/// A box from `low` to `high`, six faces in the order -x +x -y +y -z +z, each with its four edges.
[[nodiscard]] plate::Meshes box_meshes(Vec3 low, Vec3 high);
/// Walls, floor and edges of a square cut `depth` deep into the plane y = `y` that faces -y; the square reaches `half`
/// to each side of (x, z). A negative depth: raised.
[[nodiscard]] part::FaceMesh square_relief(double x, double y, double z, double half, double depth);
/// Faces 0 to count - 1.
[[nodiscard]] std::vector<int> numbered(std::size_t count);

} // namespace touchmark::test
