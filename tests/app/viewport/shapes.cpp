// SPDX-License-Identifier: MIT
#include "tests/app/viewport/shapes.h"

#include "tests/app/support/application.h"

#include <numeric>

namespace touchmark::test {
namespace {

[[maybe_unused]] const auto* const application = testing::AddGlobalTestEnvironment(new Application);

std::array<float, 3> single(Vec3 v) {
    return {static_cast<float>(v.x), static_cast<float>(v.y), static_cast<float>(v.z)};
}

/// Counter-clockwise seen from where the normal points.
void add_quad(part::FaceMesh& mesh, const std::array<Vec3, 4>& corners) {
    const Vec3 normal = normalised(cross(corners[1] - corners[0], corners[2] - corners[0]));
    const auto first = static_cast<std::uint32_t>(mesh.points.size());
    for (const Vec3& corner : corners) {
        mesh.points.push_back(single(corner));
        mesh.normals.push_back(single(normal));
    }
    mesh.triangles.push_back({first, first + 1, first + 2});
    mesh.triangles.push_back({first, first + 2, first + 3});
}

std::shared_ptr<const part::FaceMesh> face(const std::array<Vec3, 4>& corners) {
    auto mesh = std::make_shared<part::FaceMesh>();
    add_quad(*mesh, corners);
    for (std::size_t i = 0; i < 4; ++i)
        mesh->edges.push_back({single(corners[i]), single(corners[(i + 1) % 4])});
    return mesh;
}

} // namespace

plate::Meshes box_meshes(Vec3 a, Vec3 b) {
    return {face({{{a.x, a.y, a.z}, {a.x, a.y, b.z}, {a.x, b.y, b.z}, {a.x, b.y, a.z}}}),
            face({{{b.x, a.y, a.z}, {b.x, b.y, a.z}, {b.x, b.y, b.z}, {b.x, a.y, b.z}}}),
            face({{{a.x, a.y, a.z}, {b.x, a.y, a.z}, {b.x, a.y, b.z}, {a.x, a.y, b.z}}}),
            face({{{a.x, b.y, a.z}, {a.x, b.y, b.z}, {b.x, b.y, b.z}, {b.x, b.y, a.z}}}),
            face({{{a.x, a.y, a.z}, {a.x, b.y, a.z}, {b.x, b.y, a.z}, {b.x, a.y, a.z}}}),
            face({{{a.x, a.y, b.z}, {b.x, a.y, b.z}, {b.x, b.y, b.z}, {a.x, b.y, b.z}}})};
}

part::FaceMesh square_relief(double x, double y, double z, double half, double depth) {
    part::FaceMesh mesh;
    const auto square = [&](double at) -> std::array<Vec3, 4> {
        return {
            {{x - half, at, z - half}, {x + half, at, z - half}, {x + half, at, z + half}, {x - half, at, z + half}}};
    };
    const auto rim = square(y), other = square(y + depth);
    const bool cut = depth > 0;
    add_quad(mesh, cut ? rim : other);
    for (std::size_t i = 0; i < 4; ++i) {
        const std::size_t j = (i + 1) % 4;
        if (cut) // faces the middle, away from it where raised; from the foot up
            add_quad(mesh, {other[j], other[i], rim[i], rim[j]});
        else
            add_quad(mesh, {rim[i], rim[j], other[j], other[i]});
    }
    if (cut) add_quad(mesh, other);
    auto& edge = mesh.edges.emplace_back();
    for (std::size_t i = 0; i <= 4; ++i)
        edge.push_back(single((cut ? rim : other)[i % 4]));
    return mesh;
}

plate::Meshes cut_box_meshes(Vec3 a, Vec3 b, double x, double z, double half, double depth) {
    plate::Meshes meshes = box_meshes(a, b);
    const auto left = std::make_shared<part::FaceMesh>();
    const double west = x - half, east = x + half, south = z - half, north = z + half;
    const auto piece = [&](double x0, double z0, double x1, double z1) {
        add_quad(*left, {{{x0, a.y, z0}, {x1, a.y, z0}, {x1, a.y, z1}, {x0, a.y, z1}}});
    };
    piece(a.x, a.z, west, b.z);
    piece(east, a.z, b.x, b.z);
    piece(west, a.z, east, south);
    piece(west, north, east, b.z);
    left->edges = meshes[2]->edges;
    meshes[2] = left;
    const auto inside = std::make_shared<part::FaceMesh>(square_relief(x, a.y, z, half, depth));
    inside->triangles.erase(inside->triangles.begin(), inside->triangles.begin() + 2); // no lid
    meshes.push_back(inside);
    return meshes;
}

std::vector<int> numbered(std::size_t count) {
    std::vector<int> numbers(count);
    std::iota(numbers.begin(), numbers.end(), 0);
    return numbers;
}

} // namespace touchmark::test
