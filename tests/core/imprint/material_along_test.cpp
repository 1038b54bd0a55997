// SPDX-License-Identifier: MIT
#include "core/imprint/material_along.h"

#include <gtest/gtest.h>

#include <random>

namespace touchmark::imprint {
namespace {

/// Two triangles, seen from outside counter-clockwise.
void add(std::vector<Triangle>& mesh, Vec3 a, Vec3 b, Vec3 c, Vec3 d) {
    mesh.push_back({{a, b, c}, 0});
    mesh.push_back({{a, c, d}, 0});
}

/// A box from corner to corner, its faces outward; inward: a hollow.
void add_box(std::vector<Triangle>& mesh, Vec3 low, Vec3 high, bool inward = false) {
    const auto corner = [&](int i) {
        return Vec3{i & 1 ? high.x : low.x, i & 2 ? high.y : low.y, i & 4 ? high.z : low.z};
    };
    for (const auto& [a, b, c, d] :
         {std::array{0, 2, 3, 1}, {4, 5, 7, 6}, {0, 1, 5, 4}, {2, 6, 7, 3}, {0, 4, 6, 2}, {1, 3, 7, 5}})
        inward ? add(mesh, corner(d), corner(c), corner(b), corner(a))
               : add(mesh, corner(a), corner(b), corner(c), corner(d));
}

// A slab of 5 mm with a slot 2 mm wide inside it, 0.6 mm high, open to nothing: at each pixel the thickness is known.
TEST(MaterialAlong, OfASlabWithASlotIsExactAtEveryPixel) {
    std::vector<Triangle> mesh;
    add_box(mesh, {-10, -10, 0}, {10, 10, 5});
    add_box(mesh, {-1, -8, 3}, {1, 8, 3.6}, true);
    const TriangleTree tree(std::move(mesh));
    int in_slot = 0;
    for (int row = 0; row < 96; ++row)
        for (int column = 0; column < 96; ++column) {
            const double x = -9.5 + 0.2 * column, y = -9.5 + 0.2 * row; // also on the diagonals that triangles share
            const bool slot = std::abs(x) < 1 && std::abs(y) < 8;
            const double thickness = slot ? 4.4 : 5;
            in_slot += slot;
            ASSERT_NEAR(material_along(tree, {x, y, 5.001}, {0, 0, -1}), thickness, 1e-3 * thickness) << x << ' ' << y;
        }
    EXPECT_GT(in_slot, 500);
}

TEST(MaterialAlong, AnOtherWayThroughABoxIsTheChordOfTheSlabs) {
    std::vector<Triangle> mesh;
    add_box(mesh, {0, 0, 0}, {3, 4, 5});
    const TriangleTree tree(std::move(mesh));
    std::mt19937 random(11);
    std::uniform_real_distribution<double> in(0.1, 0.9), any(-1, 1);
    for (int i = 0; i < 200; ++i) {
        const Vec3 through{3 * in(random), 4 * in(random), 5 * in(random)};
        Vec3 way{any(random), any(random), any(random)};
        way = way * (1 / length(way));
        const auto exit = [](double at, double step, double size) {
            return step > 0 ? (size - at) / step : step < 0 ? -at / step : 1e9;
        };
        const double forth =
            std::min({exit(through.x, way.x, 3), exit(through.y, way.y, 4), exit(through.z, way.z, 5)});
        const double back =
            std::min({exit(through.x, -way.x, 3), exit(through.y, -way.y, 4), exit(through.z, -way.z, 5)});
        EXPECT_NEAR(material_along(tree, through - way * 20, way), forth + back, 1e-9);
    }
}

TEST(MaterialAlong, BesideThePartIsNone) {
    std::vector<Triangle> mesh;
    add_box(mesh, {0, 0, 0}, {1, 1, 1});
    EXPECT_EQ(material_along(TriangleTree(std::move(mesh)), {2, 2, 2}, {0, 0, -1}), 0);
}

} // namespace
} // namespace touchmark::imprint
