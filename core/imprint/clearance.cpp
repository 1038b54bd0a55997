// SPDX-License-Identifier: MIT
#include "core/imprint/clearance.h"

#include "core/imprint/far_side.h"
#include "core/imprint/nearest_wall.h"

#include <algorithm>

namespace touchmark::imprint {
namespace {

constexpr double farthest = 1000; // mm

Vec3 widened(const std::array<float, 3>& p) {
    return {p[0], p[1], p[2]};
}

} // namespace

struct Obstacles::Impl {
    std::vector<TriangleTree> bodies;
    std::vector<int> body_of_face;
    double mesh_tolerance = 0;
};

Obstacles::Obstacles(std::unique_ptr<Impl> impl) : impl_(std::move(impl)) {}
Obstacles::~Obstacles() = default;

Result<std::shared_ptr<const Obstacles>> Obstacles::of(const part::Part& part, const part::Deflection& deflection,
                                                       const Progress& progress) {
    const auto meshes = part::tessellate(part, deflection, progress);
    if (!meshes) return std::unexpected(meshes.error());
    std::vector<std::vector<Triangle>> triangles(part.bodies().size());
    auto impl = std::make_unique<Impl>();
    // As part::Deflection chooses it.
    impl->mesh_tolerance = deflection.linear.value > 0 ? deflection.linear.value
                                                       : std::clamp(length(part.box().size()) / 2000, 0.005, 0.5);
    for (const part::Face& face : part.faces()) {
        const part::FaceMesh& mesh = *(*meshes)[static_cast<std::size_t>(face.index)];
        impl->body_of_face.push_back(face.body);
        for (const auto& [a, b, c] : mesh.triangles)
            triangles[static_cast<std::size_t>(face.body)].push_back(
                {{widened(mesh.points[a]), widened(mesh.points[b]), widened(mesh.points[c])}, face.index});
    }
    for (auto& own : triangles) {
        if (progress.cancelled()) return fail(std::string(cancelled_code), "Cancelled.");
        impl->bodies.emplace_back(std::move(own));
    }
    return std::shared_ptr<const Obstacles>(new Obstacles(std::move(impl)));
}

const TriangleTree& Obstacles::mesh_of(int body) const {
    return impl_->bodies[static_cast<std::size_t>(body)];
}

double Obstacles::mesh_tolerance() const {
    return impl_->mesh_tolerance;
}

std::optional<Obstacles::Wall> Obstacles::wall_behind(const Footprint& mark, std::span<const int> but,
                                                      double within) const {
    const int body = impl_->body_of_face[static_cast<std::size_t>(mark.map->face())];
    return nearest_wall(mark, impl_->mesh_tolerance, impl_->bodies[static_cast<std::size_t>(body)], within, but);
}

Result<FarSide> Obstacles::far_side(const Footprint& mark) const {
    const int body = impl_->body_of_face[static_cast<std::size_t>(mark.map->face())];
    return imprint::far_side(mark, impl_->mesh_tolerance, impl_->bodies[static_cast<std::size_t>(body)]);
}

std::optional<double> Obstacles::room_above(const Footprint& mark) const {
    std::optional<double> lowest;
    for (const TriangleTree& body : impl_->bodies)
        if (const auto roof = lowest_roof(mark, body, lowest.value_or(farthest))) lowest = roof;
    return lowest;
}

std::optional<double> Obstacles::room_above_in_body(const Footprint& mark) const {
    const int body = impl_->body_of_face[static_cast<std::size_t>(mark.map->face())];
    return lowest_roof(mark, impl_->bodies[static_cast<std::size_t>(body)], farthest);
}

} // namespace touchmark::imprint
