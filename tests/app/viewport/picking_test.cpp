// SPDX-License-Identifier: MIT
#include "app/viewport/picking.h"

#include "tests/app/viewport/shapes.h"
#include "tests/support/open_parts.h"
#include "tests/support/reader.h"

#include <gtest/gtest.h>

#include <random>

namespace touchmark::viewport {
namespace {

struct Crossing {
    double along = std::numeric_limits<double>::infinity();
    int face = -1;
};

/// Every triangle by Möller and Trumbore's test (1997).
Crossing brute_force(const plate::Meshes& meshes, Vec3 from, Vec3 direction) {
    Crossing nearest;
    for (std::size_t face = 0; face < meshes.size(); ++face) {
        const auto at = [&](std::uint32_t i) {
            const auto& p = meshes[face]->points[i];
            return Vec3{p[0], p[1], p[2]};
        };
        for (const auto& [i, j, k] : meshes[face]->triangles) {
            const Vec3 a = at(i), ab = at(j) - a, ac = at(k) - a, p = cross(direction, ac);
            const double determinant = dot(ab, p);
            if (std::abs(determinant) < 1e-12) continue;
            const Vec3 t = from - a, q = cross(t, ab);
            const double u = dot(t, p) / determinant, v = dot(direction, q) / determinant;
            const double along = dot(ac, q) / determinant;
            if (u < 0 || v < 0 || u + v > 1 || along < 0 || along >= nearest.along) continue;
            nearest = {along, static_cast<int>(face)};
        }
    }
    return nearest;
}

TEST(Picking, MeetsTheNearSideOfABox) {
    Picking picking;
    picking.set_part(test::box_meshes({0, 0, 0}, {10, 20, 30}), test::numbered(6));
    const auto hit = picking.cast({5, -100, 15}, {0, 1, 0}, 1000);
    ASSERT_TRUE(hit);
    EXPECT_EQ(hit->face, 2);
    EXPECT_NEAR(distance(hit->point, {5, 0, 15}), 0, 1e-6);
    EXPECT_NEAR(distance(hit->normal, {0, -1, 0}), 0, 1e-6);
    EXPECT_FALSE(picking.cast({5, -100, 15}, {0, -1, 0}, 1000));
    EXPECT_FALSE(picking.cast({5, -100, 15}, {0, 1, 0}, 99)) << "beyond its reach";
}

TEST(Picking, MeetsNothingWhereThereIsNoPart) {
    const Picking picking;
    EXPECT_FALSE(picking.cast({}, {0, 0, 1}, 10));
}

TEST(Picking, AgreesWithEveryTriangleOfARealPart) {
    const part::PartPtr part = test::read_part(test::open_part("as1-oc-214.stp"));
    const plate::Meshes meshes = *part::tessellate(*part, {}, Progress());
    Picking picking;
    picking.set_part(meshes, test::numbered(meshes.size()));
    const Box3 box = part->box();
    const double around = length(box.size());
    std::mt19937 random(7);
    std::normal_distribution<double> normal;
    int met = 0;
    for (int i = 0; i < 60; ++i) {
        const Vec3 way = normalised(Vec3{normal(random), normal(random), normal(random)});
        const Vec3 aside = Vec3{normal(random), normal(random), normal(random)} * (around * 0.08);
        const Vec3 from = box.centre() + way * around + aside;
        const Crossing expected = brute_force(meshes, from, -way);
        const auto hit = picking.cast(from, -way, 3 * around);
        ASSERT_EQ(hit.has_value(), expected.face >= 0) << i;
        if (!hit) continue;
        ++met;
        EXPECT_EQ(hit->face, expected.face) << i;
        EXPECT_NEAR(distance(hit->point, from), expected.along, 1e-3) << i;
    }
    EXPECT_GT(met, 10);
}

} // namespace
} // namespace touchmark::viewport
