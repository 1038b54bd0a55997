// SPDX-License-Identifier: MIT
#include "app/panels/silhouette.h"

#include <gtest/gtest.h>
#include <numbers>

namespace touchmark::panels {
namespace {

std::shared_ptr<const part::FaceMesh> triangles(std::vector<std::array<float, 3>> points,
                                                std::vector<std::array<std::uint32_t, 3>> corners) {
    part::FaceMesh mesh;
    mesh.points = std::move(points);
    mesh.triangles = std::move(corners);
    return std::make_shared<const part::FaceMesh>(std::move(mesh));
}

/// A quadrilateral in the plane y = 0.
std::shared_ptr<const part::FaceMesh> upright(float x0, float z0, float x1, float z1) {
    return triangles({{x0, 0, z0}, {x1, 0, z0}, {x1, 0, z1}, {x0, 0, z1}}, {{0, 1, 2}, {0, 2, 3}});
}

double covered(const Silhouette& shape) {
    double sum = 0;
    for (int y = 0; y < shape.coverage.height(); ++y)
        for (int x = 0; x < shape.coverage.width(); ++x)
            sum += shape.coverage.constScanLine(y)[x] > 0 ? 1 : 0;
    return sum / (shape.coverage.width() * shape.coverage.height());
}

TEST(Silhouette, OfAnAngleCoversItsTwoArms) {
    // 40 × 20 with a quarter of it (20 × 10, top right) missing: three quarters covered.
    const plate::Meshes meshes{upright(0, 0, 40, 10), upright(0, 10, 20, 20)};
    const Silhouette shape = silhouette_of(meshes, {}, 100, Progress());
    EXPECT_DOUBLE_EQ(shape.width_mm, 40);
    EXPECT_DOUBLE_EQ(shape.height_mm, 20);
    EXPECT_EQ(shape.coverage.width(), 200);
    EXPECT_NEAR(covered(shape), 0.75, 0.01);
    EXPECT_EQ(shape.coverage.constScanLine(10)[150], 0) << "top right is open";
    EXPECT_EQ(shape.coverage.constScanLine(10)[50], 255) << "the top row is the highest";
}

TEST(Silhouette, OfADiscIsPiQuartersOfItsSquare) {
    std::vector<std::array<float, 3>> points{{0, 0, 0}};
    std::vector<std::array<std::uint32_t, 3>> corners;
    constexpr std::uint32_t steps = 360;
    for (std::uint32_t i = 0; i < steps; ++i) {
        const double angle = 2 * std::numbers::pi * i / steps;
        points.push_back({static_cast<float>(10 * std::cos(angle)), 0, static_cast<float>(10 * std::sin(angle))});
        corners.push_back({0, 1 + i, 1 + (i + 1) % steps});
    }
    const Silhouette shape = silhouette_of({triangles(points, corners)}, {}, 200, Progress());
    EXPECT_NEAR(covered(shape), std::numbers::pi / 4, 0.02);
}

TEST(Silhouette, AWallThinnerThanAPixelIsStillSeen) {
    const Silhouette shape = silhouette_of({upright(0, 0, 100, 1), upright(50, 0, 50.01F, 50)}, {}, 50, Progress());
    EXPECT_EQ(shape.coverage.constScanLine(5)[50], 255);
}

TEST(Silhouette, OfNothingIsEmptyAndACancelledOneToo) {
    EXPECT_TRUE(silhouette_of({}, {}, 100, Progress()).coverage.isNull());
    Progress cancelled;
    cancelled.cancel();
    EXPECT_TRUE(silhouette_of({upright(0, 0, 1, 1)}, {}, 100, cancelled).coverage.isNull());
}

} // namespace
} // namespace touchmark::panels
