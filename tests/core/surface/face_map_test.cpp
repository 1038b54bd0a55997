// SPDX-License-Identifier: MIT
#include "core/surface/map_table.h"
#include "tests/core/surface/parts.h"
#include "tests/support/open_parts.h"
#include "tests/support/reader.h"

#include <BRepAlgoAPI_Cut.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakePolygon.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRepPrimAPI_MakePrism.hxx>
#include <TopExp_Explorer.hxx>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace touchmark::test {
namespace {

MATCHER_P(Near3, expected, "") {
    return distance(arg, expected) < 1e-9;
}

TEST(FaceMap, ReadsUprightFromOutsideOnEverySideOfABox) {
    const part::PartPtr box = part_of(BRepPrimAPI_MakeBox(gp_Pnt(10, 20, 30), 60, 40, 20).Shape());
    struct Side {
        Vec3 normal, x;
        Vec2 size;
    };
    // Seen from outside: sides with +Z up, top and bottom with +Y up.
    for (const Side& side : {Side{{0, -1, 0}, {1, 0, 0}, {60, 20}}, Side{{1, 0, 0}, {0, 1, 0}, {40, 20}},
                             Side{{0, 1, 0}, {-1, 0, 0}, {60, 20}}, Side{{-1, 0, 0}, {0, -1, 0}, {40, 20}},
                             Side{{0, 0, 1}, {1, 0, 0}, {60, 40}}, Side{{0, 0, -1}, {-1, 0, 0}, {60, 40}}}) {
        const surface::FaceMapPtr map = map_of(*box, side.normal);
        EXPECT_THAT(map->normal({}), Near3(side.normal));
        EXPECT_THAT(map->x_direction({}), Near3(side.x));
        EXPECT_NEAR(map->rectangle().x, side.size.x, 1e-6);
        EXPECT_NEAR(map->rectangle().y, side.size.y, 1e-6);
        const Vec3 centre{40, 40, 40}, half{30, 20, 10};
        const Vec3 face{centre.x + half.x * side.normal.x, centre.y + half.y * side.normal.y,
                        centre.z + half.z * side.normal.z};
        EXPECT_LT(distance(map->point({}), face), 1e-6);
        EXPECT_NEAR(geometry::area(map->room()), side.size.x * side.size.y, 1e-6);
        const Vec2 back = map->locate(map->point({3, -4}) + map->normal({}) * 5);
        EXPECT_NEAR(back.x, 3, 1e-9);
        EXPECT_NEAR(back.y, -4, 1e-9);
    }
}

TEST(FaceMap, FollowsTheLongestEdgeTurnedTowardsUp) {
    // A front face whose longest edge (0, 0)–(30, 10) leans by 18.4°: y is across it, upwards.
    BRepBuilderAPI_MakePolygon edges(gp_Pnt(0, 0, 0), gp_Pnt(30, 0, 10), gp_Pnt(28, 0, 20), gp_Pnt(0, 0, 12),
                                     Standard_True);
    const part::PartPtr part = part_of(
        BRepPrimAPI_MakePrism(BRepBuilderAPI_MakeFace(edges.Wire(), Standard_True).Face(), gp_Vec(0, 8, 0)).Shape());
    const surface::FaceMapPtr map = map_of(*part, {0, -1, 0});
    EXPECT_THAT(map->x_direction({}), Near3(Vec3{3 / std::sqrt(10.0), 0, 1 / std::sqrt(10.0)}));
}

TEST(FaceMap, ADiscReadsUprightAndHoldsASquare) {
    const part::PartPtr rod =
        part_of(BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(5, 6, 7), gp_Dir(0, -1, 0), gp_Dir(1, 0, 1)), 10, 30).Shape());
    const surface::FaceMapPtr map = map_of(*rod, {0, -1, 0});
    EXPECT_THAT(map->x_direction({}), Near3(Vec3{1, 0, 0}));
    // The largest rectangle in a circle is the square of side r√2.
    const double side = 10 * std::sqrt(2.0);
    EXPECT_NEAR(map->rectangle().x * map->rectangle().y, side * side, 0.05 * side);
    EXPECT_LE(std::hypot(map->rectangle().x, map->rectangle().y) / 2, 10.001);
    EXPECT_NEAR(geometry::area(map->room()), std::numbers::pi * 100, 0.002 * 2 * std::numbers::pi * 10);
}

TEST(FaceMap, KeepsClearOfHoles) {
    const TopoDS_Shape bore = BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(30, 20, -1), gp::DZ()), 6, 30).Shape();
    const part::PartPtr box = part_of(BRepAlgoAPI_Cut(BRepPrimAPI_MakeBox(60, 40, 20).Shape(), bore).Shape());
    const surface::FaceMapPtr map = map_of(*box, {0, 0, 1});
    // Beside the hole 24 × 40 = 960; under it 60 × 14 = 840.
    EXPECT_NEAR(map->rectangle().x, 24, 0.05);
    EXPECT_NEAR(map->rectangle().y, 40, 0.05);
    ASSERT_EQ(map->room().regions.size(), 1u);
    EXPECT_EQ(map->room().regions[0].holes.size(), 1u);
    EXPECT_NEAR(std::abs(map->point({}).x - 30), 6 + 12, 0.05);
}

TEST(FaceMap, IsRightHandedAndOutwardWhereThePartLiesMirrored) {
    gp_Trsf mirror, turn;
    mirror.SetMirror(gp_Ax2(gp_Pnt(3, 4, 5), gp_Dir(1, 2, 3)));
    turn.SetRotation(gp_Ax1(gp_Pnt(), gp_Dir(1, 1, 0)), 0.4);
    for (const gp_Trsf& placing : {mirror, turn, turn * mirror}) {
        const part::PartPtr box = part_of(BRepPrimAPI_MakeBox(60, 40, 20).Shape(), TopLoc_Location(placing));
        const gp_Pnt middle = gp_Pnt(30, 20, 10).Transformed(placing);
        for (const part::Face& face : box->faces()) {
            const auto map = surface::map_face(*box, face.index);
            ASSERT_TRUE(map);
            const Vec3 out = (*map)->point({}) - Vec3{middle.X(), middle.Y(), middle.Z()};
            EXPECT_GT(dot(out, (*map)->normal({})), 5);
            const Vec3 x = (*map)->point({1, 0}) - (*map)->point({}), y = (*map)->point({0, 1}) - (*map)->point({});
            EXPECT_THAT(cross(x, y), Near3((*map)->normal({})));
            EXPECT_NEAR(geometry::area((*map)->room()), face.area_mm2, 1e-6);
            EXPECT_GE(dot(y, {0, 0, 1}), -1e-9);
        }
    }
}

TEST(FaceMap, SaysWhyAFaceHasNone) {
    const part::PartPtr rod = part_of(BRepPrimAPI_MakeCylinder(10, 30).Shape());
    EXPECT_EQ(surface::map_face(*rod, -1).error().code, "surface.no_face");
    EXPECT_EQ(surface::map_face(*rod, 3).error().code, "surface.no_face");
}

TEST(FaceMap, EveryKindInTheTableIsThereOnce) {
    const auto kinds = surface::map_kinds();
    for (const surface::MapKind& kind : kinds)
        EXPECT_EQ(std::count_if(kinds.begin(), kinds.end(), [&](const auto& k) { return k.kind == kind.kind; }), 1);
}

TEST(FaceMap, MapsEveryFlatFaceOfRealParts) {
    for (const char* name : {"as1-oc-214.stp", "io1-cm-214.stp", "frame.step", "sg1-c5-214.stp"}) {
        const part::PartPtr part = read_part(open_part(name));
        int mapped = 0;
        for (const part::Face& face : part->faces()) {
            if (face.kind != part::FaceKind::plane) continue;
            const auto map = surface::map_face(*part, face.index);
            ASSERT_TRUE(map) << name << " face " << face.index << ": " << map.error().message;
            ++mapped;
            // OpenCASCADE's area against the room's; curves within 0.002 mm.
            double length = 0;
            for (const geometry::Region& region : (*map)->room().regions)
                length += geometry::perimeter({{region}});
            EXPECT_NEAR(geometry::area((*map)->room()), face.area_mm2, 0.002 * length + 1e-6 * face.area_mm2)
                << name << face.index;
            const Vec2 half = (*map)->rectangle() * 0.499;
            for (const Vec2 corner : {half, half * -1, Vec2{half.x, -half.y}, Vec2{-half.x, half.y}})
                EXPECT_TRUE(geometry::contains((*map)->room(), corner)) << name << face.index;
            if ((*map)->rectangle().x > 0) {
                const auto margin = surface::margin(**map, block(half * -1, half));
                EXPECT_GT(margin.distance, -1e-6) << name << face.index;
            }
        }
        EXPECT_GT(mapped, 2) << name;
    }
}

} // namespace
} // namespace touchmark::test
