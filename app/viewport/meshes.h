// SPDX-License-Identifier: MIT
#pragma once

#include "core/plate/plate.h"

#include <vtkSmartPointer.h>
#include <vtkType.h>

class vtkActor;
class vtkMatrix4x4;
class vtkPolyData;

namespace touchmark::viewport {

/// All faces in one: points (less `centre`, so that a part far from the origin keeps its digits), normals, triangles.
[[nodiscard]] vtkSmartPointer<vtkPolyData> triangles_of(const std::vector<const part::FaceMesh*>& meshes, Vec3 centre);

/// The edges of the faces, parted by how the surface goes on behind them. A seam, where a face meets itself, is none,
/// nor is an edge between faces that are `plain` (one for each mesh, or empty).
struct Edges {
    vtkSmartPointer<vtkPolyData> crease, tangent;
};
[[nodiscard]] Edges edges_of(const plate::Meshes& meshes, Vec3 centre, const std::vector<bool>& plain = {});

/// Polylines as lines.
[[nodiscard]] vtkSmartPointer<vtkPolyData>
lines_of(const std::vector<const std::vector<std::array<float, 3>>*>& polylines, Vec3 centre);

[[nodiscard]] Box3 box_of(const plate::Meshes& meshes);
[[nodiscard]] vtkSmartPointer<vtkMatrix4x4> matrix_of(const plate::Placement& placement, Vec3 centre);

} // namespace touchmark::viewport
