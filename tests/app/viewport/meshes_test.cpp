// SPDX-License-Identifier: MIT
#include "app/viewport/meshes.h"

#include "tests/app/viewport/shapes.h"

#include <gtest/gtest.h>
#include <vtkMassProperties.h>
#include <vtkMatrix4x4.h>
#include <vtkNew.h>
#include <vtkPolyData.h>

#include <cmath>
#include <numbers>

namespace touchmark::viewport {
namespace {

std::vector<const part::FaceMesh*> pointers(const plate::Meshes& meshes) {
    std::vector<const part::FaceMesh*> all;
    for (const auto& mesh : meshes)
        all.push_back(mesh.get());
    return all;
}

/// An upright cylinder's wall of `steps` facets with a seam at angle 0, and its lid.
plate::Meshes capped_cylinder(double radius, double height, int steps) {
    auto wall = std::make_shared<part::FaceMesh>(), lid = std::make_shared<part::FaceMesh>();
    std::vector<std::array<float, 3>> rim, foot;
    for (int i = 0; i <= steps; ++i) {
        const double angle = 2 * std::numbers::pi * (i % steps) / steps;
        const auto c = static_cast<float>(std::cos(angle)), s = static_cast<float>(std::sin(angle));
        const auto r = static_cast<float>(radius);
        for (const double z : {0.0, height}) {
            wall->points.push_back({r * c, r * s, static_cast<float>(z)});
            wall->normals.push_back({c, s, 0});
        }
        foot.push_back({r * c, r * s, 0});
        rim.push_back({r * c, r * s, static_cast<float>(height)});
        lid->points.push_back(rim.back());
        lid->normals.push_back({0, 0, 1});
    }
    wall->edges = {foot, rim, {foot.front(), rim.front()}, {rim.back(), foot.back()}}; // the seam from both sides
    lid->edges = {rim};
    return {wall, lid};
}

TEST(Meshes, ABoxKeepsItsVolumeFarFromTheOrigin) {
    const plate::Meshes box = test::box_meshes({1000, 2000, 3000}, {1010, 2020, 3005});
    vtkNew<vtkMassProperties> mass;
    mass->SetInputData(triangles_of(pointers(box), {1005, 2010, 3002.5}));
    EXPECT_NEAR(mass->GetVolume(), 10 * 20 * 5, 1e-3); // VTK's own integration; positive: outward
}

TEST(Meshes, ABoxHasTwelveCreases) {
    const Edges edges = edges_of(test::box_meshes({0, 0, 0}, {3, 4, 5}), {});
    EXPECT_EQ(edges.crease->GetNumberOfLines(), 12);
    EXPECT_EQ(edges.tangent->GetNumberOfLines(), 0);
}

TEST(Meshes, ASeamIsNoEdge) {
    const Edges edges = edges_of(capped_cylinder(5, 10, 24), {});
    EXPECT_EQ(edges.crease->GetNumberOfLines(), 2); // rim and foot
    EXPECT_EQ(edges.tangent->GetNumberOfLines(), 0);
}

TEST(Meshes, SurfacesThatRunOnSmoothlyMeetInATangentEdge) {
    plate::Meshes halves = test::box_meshes({0, 0, 0}, {3, 4, 5});
    const plate::Meshes beside = test::box_meshes({3, 0, 0}, {6, 4, 5});
    const Edges edges = edges_of({halves[2], beside[2]}, {}); // both face -y
    EXPECT_EQ(edges.tangent->GetNumberOfLines(), 1);
    EXPECT_EQ(edges.crease->GetNumberOfLines(), 6);
}

TEST(Meshes, NoEdgeIsDrawnBetweenPlainFaces) {
    std::vector<bool> plain(6, false);
    plain[2] = plain[5] = true; // neighbours: -y and +z
    EXPECT_EQ(edges_of(test::box_meshes({0, 0, 0}, {3, 4, 5}), {}, plain).crease->GetNumberOfLines(), 11);
}

TEST(Meshes, TheMatrixPlacesAPointAsThePlateDoes) {
    const plate::Meshes box = test::box_meshes({5, 6, 7}, {15, 26, 37});
    const plate::Placement placement = plate::placement_of({.down = {1, 0, 0}, .turn = Degrees(30)}, box);
    const Vec3 centre{10, 16, 22}, point{6, 20, 30};
    const double local[] = {point.x - centre.x, point.y - centre.y, point.z - centre.z, 1};
    double placed[4];
    matrix_of(placement, centre)->MultiplyPoint(local, placed);
    EXPECT_NEAR(distance({placed[0], placed[1], placed[2]}, placement(point)), 0, 1e-9);
}

} // namespace
} // namespace touchmark::viewport
