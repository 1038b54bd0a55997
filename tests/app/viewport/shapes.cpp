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
    const std::array<Vec3, 4> rim{
        {{x - half, y, z - half}, {x + half, y, z - half}, {x + half, y, z + half}, {x - half, y, z + half}}};
    std::array<Vec3, 4> floor = rim;
    for (Vec3& corner : floor)
        corner.y += depth;
    add_quad(mesh, floor);
    for (std::size_t i = 0; i < 4; ++i) {
        const std::size_t j = (i + 1) % 4;
        add_quad(mesh,
                 {rim[i], rim[j], floor[j], floor[i]}); // faces the middle for a cut, away from it for a raised one
    }
    return mesh;
}

std::vector<int> numbered(std::size_t count) {
    std::vector<int> numbers(count);
    std::iota(numbers.begin(), numbers.end(), 0);
    return numbers;
}

} // namespace touchmark::test
