// SPDX-License-Identifier: MIT
#include "core/part/mesh_cache.h"

#include <algorithm>
#include <bit>
#include <cmath>

namespace touchmark::part {
namespace {

FaceMesh transformed(const FaceMesh& mesh, const gp_Trsf& by, bool reversed) {
    FaceMesh out = mesh;
    const auto carry = [&](std::array<float, 3>& p) {
        gp_XYZ xyz(p[0], p[1], p[2]);
        by.Transforms(xyz);
        p = {static_cast<float>(xyz.X()), static_cast<float>(xyz.Y()), static_cast<float>(xyz.Z())};
    };
    const gp_Mat linear = by.HVectorialPart(); // without the scale, so that a normal stays one
    const double side = reversed ? -1 : 1;
    if (by.Form() != gp_Identity) {
        std::ranges::for_each(out.points, carry);
        for (auto& edge : out.edges)
            std::ranges::for_each(edge, carry);
    }
    for (auto& n : out.normals) {
        const gp_XYZ turned = gp_XYZ(n[0], n[1], n[2]).Multiplied(linear) * (by.ScaleFactor() < 0 ? -side : side);
        n = {static_cast<float>(turned.X()), static_cast<float>(turned.Y()), static_cast<float>(turned.Z())};
    }
    if (reversed != by.IsNegative())
        for (auto& t : out.triangles)
            std::swap(t[1], t[2]);
    return out;
}

} // namespace

std::shared_ptr<const FaceMesh> LocalMesh::placed(const TopLoc_Location& location, bool reversed) const {
    if (location.IsIdentity() && !reversed) return forward;
    const std::lock_guard lock(mutex_);
    for (const Placing& placing : placings_)
        if (placing.reversed == reversed && placing.location == location)
            if (auto mesh = placing.mesh.lock()) return mesh;
    std::erase_if(placings_, [](const Placing& placing) { return placing.mesh.expired(); });
    auto mesh = std::make_shared<const FaceMesh>(transformed(*forward, location.Transformation(), reversed));
    placings_.push_back({location, reversed, mesh});
    return mesh;
}

std::size_t MeshCache::Hash::operator()(const Key& key) const noexcept {
    return std::hash<const void*>()(key.face) ^ std::bit_cast<std::uint64_t>(key.linear) * 31 ^
           std::bit_cast<std::uint64_t>(key.angular) * 17;
}

MeshCache& MeshCache::instance() {
    static MeshCache cache;
    return cache;
}

LocalMeshPtr MeshCache::find(const TopoDS_Shape& face, double linear, double angular) {
    const std::lock_guard lock(mutex_);
    const auto found = meshes_.find({face.TShape().get(), linear, angular});
    return found == meshes_.end() ? nullptr : found->second.lock();
}

void MeshCache::add(const LocalMeshPtr& mesh, double linear, double angular) {
    const std::lock_guard lock(mutex_);
    meshes_[{mesh->owner.get(), linear, angular}] = mesh;
    if (meshes_.size() < sweep_at_) return;
    std::erase_if(meshes_, [](const auto& entry) { return entry.second.expired(); });
    sweep_at_ = std::max<std::size_t>(1024, meshes_.size() * 2);
}

} // namespace touchmark::part
