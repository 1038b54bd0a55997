// SPDX-License-Identifier: MIT
#pragma once

#include "core/plate/plate.h"

namespace touchmark::test {

/// A box from `low` to `high`, six faces in the order -x +x -y +y -z +z, each with its four edges.
[[nodiscard]] plate::Meshes box_meshes(Vec3 low, Vec3 high);
/// As imprint::relief gives it: lid, walls and floor of a square cut `depth` deep into the plane y = `y` that faces -y,
/// with the square as edge; it reaches `half` to each side of (x, z). A negative depth: roof and walls of a raised one.
[[nodiscard]] part::FaceMesh square_relief(double x, double y, double z, double half, double depth);
/// The box with that square cut into its face -y for real: the frame that is left of the face in its place, walls and
/// floor as one further face.
[[nodiscard]] plate::Meshes cut_box_meshes(Vec3 low, Vec3 high, double x, double z, double half, double depth);
/// Faces 0 to count - 1.
[[nodiscard]] std::vector<int> numbered(std::size_t count);

} // namespace touchmark::test
