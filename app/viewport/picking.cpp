// SPDX-License-Identifier: MIT
#include "app/viewport/picking.h"

#include "app/viewport/meshes.h"

#include <vtkFloatArray.h>
#include <vtkGenericCell.h>
#include <vtkNew.h>
#include <vtkPointData.h>
#include <vtkPolyData.h>
#include <vtkStaticCellLocator.h>

#include <algorithm>

namespace touchmark::viewport {

struct Picking::Impl {
    plate::Meshes meshes;
    std::vector<int> faces;       ///< host faces
    std::vector<vtkIdType> first; ///< the first triangle of each mesh
    Vec3 centre;
    vtkSmartPointer<vtkPolyData> data;
    vtkSmartPointer<vtkStaticCellLocator> locator;
    vtkNew<vtkGenericCell> cell;

    void build() {
        std::vector<const part::FaceMesh*> all;
        vtkIdType next = 0;
        for (const auto& mesh : meshes) {
            all.push_back(mesh.get());
            first.push_back(next);
            next += static_cast<vtkIdType>(mesh->triangles.size());
        }
        data = triangles_of(all, centre);
        locator = vtkSmartPointer<vtkStaticCellLocator>::New();
        locator->SetDataSet(data);
        locator->BuildLocator();
    }
};

Picking::Picking() : impl_(std::make_unique<Impl>()) {}
Picking::~Picking() = default;

void Picking::set_part(const plate::Meshes& meshes, const std::vector<int>& host_faces) {
    impl_->meshes = meshes;
    impl_->faces = host_faces;
    impl_->first.clear();
    impl_->locator = nullptr;
    const Box3 box = box_of(meshes);
    impl_->centre = box.empty() ? Vec3{} : box.centre();
}

std::optional<Hit> Picking::cast(Vec3 from, Vec3 direction, double reach) const {
    Impl& impl = *impl_;
    if (impl.meshes.empty()) return std::nullopt;
    if (!impl.locator) impl.build();
    if (impl.data->GetNumberOfCells() == 0) return std::nullopt;
    const Vec3 a = from - impl.centre, b = a + direction * reach;
    const double start[] = {a.x, a.y, a.z}, end[] = {b.x, b.y, b.z};
    double along = 0, at[3], weights[3];
    int part_of_cell = 0;
    vtkIdType cell = -1;
    if (impl.locator->IntersectWithLine(start, end, 1e-9, along, at, weights, part_of_cell, cell, impl.cell) == 0)
        return std::nullopt;
    const auto mesh = static_cast<std::size_t>(std::ranges::upper_bound(impl.first, cell) - impl.first.begin() - 1);
    Hit hit;
    hit.face = mesh < impl.faces.size() ? impl.faces[mesh] : static_cast<int>(mesh);
    hit.point = Vec3{at[0], at[1], at[2]} + impl.centre;
    const auto& triangle = impl.meshes[mesh]->triangles[static_cast<std::size_t>(cell - impl.first[mesh])];
    const double share[] = {1 - weights[0] - weights[1], weights[0], weights[1]};
    for (std::size_t i = 0; i < 3; ++i) {
        const auto& n = impl.meshes[mesh]->normals[triangle[i]];
        hit.normal = hit.normal + Vec3{n[0], n[1], n[2]} * share[i];
    }
    if (length(hit.normal) > 1e-9) hit.normal = normalised(hit.normal);
    return hit;
}

} // namespace touchmark::viewport
