// SPDX-License-Identifier: MIT
#include "core/imprint/material_along.h"

#include "core/imprint/ray.h"

namespace touchmark::imprint {
namespace {

/// Every place where the line meets the mesh.
struct Crossings {
    Ray ray;
    struct Crossing {
        double at;
        bool in;
    };
    std::vector<Crossing> found;

    [[nodiscard]] double bound(const Box3& box) const { return ray.entry(box); }
    [[nodiscard]] static double best() { return 1e300; }
    void look(const Triangle& triangle) {
        constexpr double edge = 1e-9; // shared edges belong to both sides; see material_along()
        const auto at = ray.hit(triangle, edge);
        if (!at || *at < 0) return;
        const Vec3 normal = cross(triangle.corners[1] - triangle.corners[0], triangle.corners[2] - triangle.corners[0]);
        found.push_back({*at, dot(normal, ray.way) < 0});
    }
};

} // namespace

double material_along(const TriangleTree& mesh, Vec3 from, Vec3 way) {
    Crossings crossings{{from, way}, {}};
    mesh.visit(crossings);
    std::ranges::sort(crossings.found, {}, &Crossings::Crossing::at);
    double length = 0, since = 0;
    bool inside = false;
    // On an edge that two triangles share there are two crossings of one kind: the second changes nothing.
    for (const Crossings::Crossing& crossing : crossings.found) {
        if (crossing.in == inside) continue;
        inside = crossing.in;
        if (inside)
            since = crossing.at;
        else
            length += crossing.at - since;
    }
    return length;
}

} // namespace touchmark::imprint
