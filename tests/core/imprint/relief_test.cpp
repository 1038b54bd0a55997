// SPDX-License-Identifier: MIT
#include "tests/core/imprint/shapes.h"

#include <BRepPrimAPI_MakeCylinder.hxx>
#include <gtest/gtest.h>

#include <cmath>

namespace touchmark::test {
namespace {

TEST(Relief, EnclosesTheVolumeOfTheMark) {
    const part::PartPtr box = part_of(rounded_box(60, 40, 20, 2));
    const Vec3 up{0, 0, 1};
    for (const Mode mode : relief_modes) {
        imprint::Footprint mark{
            "mark", *surface::map_face(*box, farthest_flat_face(*box, up)), lettering(40, 54, 30), mode, Mm(0.5), {}};
        const part::FaceMesh mesh = imprint::relief(mark, 0.0);
        double volume = 0, caps = 0;
        for (const auto& [a, b, c] : mesh.triangles) {
            const auto at = [&](std::uint32_t i) {
                return Vec3{mesh.points[i][0], mesh.points[i][1], mesh.points[i][2] - 20.0};
            };
            const Vec3 area = cross(at(b) - at(a), at(c) - at(a)) * 0.5;
            const auto& n = mesh.normals[a];
            // Counter-clockwise seen from where the normal points.
            EXPECT_GT(dot(area, {n[0], n[1], n[2]}), -1e-9);
            volume += dot(at(a), area) / 3;
            if (n[2] > 0.5) caps += area.z;
        }
        // Polygons within 0.01 mm of the curves. A cut has two caps: what is seen, at the surface, and the floor.
        const double area = gauss_area(mark.outline);
        EXPECT_NEAR(caps, area * (mode == Mode::engrave ? 2 : 1), 0.01 * area);
        EXPECT_NEAR(volume, area * (mode == Mode::engrave ? -0.5 : 0.5), 0.01 * area);
        std::size_t contours = 0;
        for (const geometry::Region& region : mark.outline.regions)
            contours += 1 + region.holes.size();
        EXPECT_EQ(mesh.edges.size(), contours);
    }
}

/// Of a mark on the box's top at z = 20.
double enclosed(const part::FaceMesh& mesh) {
    double volume = 0;
    for (const auto& [a, b, c] : mesh.triangles) {
        const auto at = [&](std::uint32_t i) {
            return Vec3{mesh.points[i][0], mesh.points[i][1], mesh.points[i][2] - 20.0};
        };
        const auto& n = mesh.normals[a];
        const Vec3 area = cross(at(b) - at(a), at(c) - at(a)) * 0.5;
        EXPECT_GT(dot(area, {n[0], n[1], n[2]}), -1e-9);
        volume += dot(at(a), area) / 3;
    }
    return volume;
}

TEST(Relief, ShowsWallsThatLeanAndAreRounded) {
    const part::PartPtr box = part_of(rounded_box(60, 40, 20, 2));
    for (const Mode mode : relief_modes) {
        imprint::Footprint mark{
            "mark", *surface::map_face(*box, farthest_flat_face(*box, {0, 0, 1})), lettering(6, 54, 30), mode, Mm(0.5),
            {}};
        mark.draft = Degrees(20);
        mark.floor_rounding = Mm(0.2);
        const auto made = imprint::imprint(box, std::span(&mark, 1), {}, Progress());
        ASSERT_TRUE(made) << made.error().message;
        const double change = made->marks[0].volume_change_mm3;
        EXPECT_NEAR(enclosed(imprint::relief(mark)), change, 0.01 * std::abs(change));
        EXPECT_LT(std::abs(change), 0.97 * gauss_area(mark.outline) * 0.5);
    }
}

TEST(Relief, ShowsAFlatFloor) {
    const double R = 15, half = 5, depth = 0.4;
    const part::PartPtr shaft = part_of(BRepPrimAPI_MakeCylinder(R, 40).Shape());
    for (const part::Face& face : shaft->faces()) {
        if (face.kind != part::FaceKind::cylinder) continue;
        for (const Mode mode : relief_modes) {
            imprint::Footprint mark{"mark",
                                    *surface::map_face(*shaft, face.index),
                                    {{{rectangle({-half, -2}, {half, 2}), {}}}},
                                    mode,
                                    Mm(depth),
                                    {}};
            mark.floor = Floor::flat;
            const Vec3 out = mark.map->normal({});
            double low = 1e300, high = -1e300;
            const part::FaceMesh mesh = imprint::relief(mark);
            for (const auto& p : mesh.points) {
                const double level = dot(Vec3{p[0], p[1], p[2]}, out);
                low = std::min(low, level);
                high = std::max(high, level);
            }
            const double edge = R * std::cos(half / R);
            EXPECT_NEAR(low, mode == Mode::raise ? edge : edge - depth, 1e-4);
            EXPECT_NEAR(high, mode == Mode::raise ? R + depth : R, 0.02);
        }
    }
}

} // namespace
} // namespace touchmark::test
