// SPDX-License-Identifier: MIT
#include "tests/core/imprint/shapes.h"

#include <gtest/gtest.h>

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

} // namespace
} // namespace touchmark::test
