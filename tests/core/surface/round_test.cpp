// SPDX-License-Identifier: MIT
#include "core/surface/unrolling.h"
#include "tests/core/surface/parts.h"
#include "tests/support/open_parts.h"
#include "tests/support/reader.h"

#include <BRepAlgoAPI_Cut.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeCone.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRep_Tool.hxx>
#include <GeomAPI_ProjectPointOnSurf.hxx>
#include <TopExp_Explorer.hxx>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

namespace touchmark::test {
namespace {

constexpr double pi = std::numbers::pi;

MATCHER_P(Near3, expected, "") {
    return distance(arg, expected) < 1e-9;
}

const part::Face& face_of_kind(const part::Part& part, part::FaceKind kind, std::size_t which = 0) {
    for (const part::Face& face : part.faces())
        if (face.kind == kind && which-- == 0) return face;
    throw std::runtime_error("no such face");
}

surface::FaceMapPtr map_at(const part::Part& part, int face) {
    auto map = surface::map_face(part, face);
    if (!map) throw std::runtime_error(map.error().message);
    return *map;
}

/// The map keeps lengths and angles, its normal is square to it, and locate() undoes point().
void expect_isometry(const surface::FaceMap& map) {
    constexpr double step = 1e-4;
    for (const Vec2 at : {Vec2{}, Vec2{2, 1}, Vec2{-3, 0.5}, Vec2{1, -1.5}}) {
        const Vec3 x = (map.point(at + Vec2{step, 0}) - map.point(at - Vec2{step, 0})) * (0.5 / step);
        const Vec3 y = (map.point(at + Vec2{0, step}) - map.point(at - Vec2{0, step})) * (0.5 / step);
        EXPECT_NEAR(length(x), 1, 1e-7);
        EXPECT_NEAR(length(y), 1, 1e-7);
        EXPECT_NEAR(dot(x, y), 0, 1e-7);
        EXPECT_LT(distance(cross(x, y), map.normal(at)), 1e-7);
        EXPECT_LT(distance(x, map.x_direction(at)), 1e-7);
        const Vec2 back = map.locate(map.point(at) + map.normal(at) * 0.3);
        EXPECT_LT(distance(back, at), 1e-9);
    }
}

TEST(RoundMap, AShaftIsARectangleOneTurnLongThatFacesTheFront) {
    const part::PartPtr rod = part_of(BRepPrimAPI_MakeCylinder(10, 30).Shape());
    const auto map = map_at(*rod, face_of_kind(*rod, part::FaceKind::cylinder).index);
    EXPECT_NEAR(map->rectangle().x, 2 * pi * 10, 1e-6);
    EXPECT_NEAR(map->rectangle().y, 30, 1e-6);
    EXPECT_THAT(map->point({}), Near3(Vec3{0, -10, 15}));
    EXPECT_THAT(map->normal({}), Near3(Vec3{0, -1, 0}));
    EXPECT_THAT(map->x_direction({}), Near3(Vec3{1, 0, 0}));
    // A quarter of the circumference to the right.
    EXPECT_THAT(map->point({5 * pi, 5}), Near3(Vec3{10, 0, 20}));
    EXPECT_THAT(map->normal({5 * pi, 0}), Near3(Vec3{1, 0, 0}));
    expect_isometry(*map);
    // Across the seam, on either side, a mark is as well inside as anywhere.
    for (const double x : {-10 * pi, 10 * pi, 0.0})
        EXPECT_NEAR(surface::margin(*map, block({x - 5, -5}, {x + 5, 5})).distance, 10, 1e-6);
}

TEST(RoundMap, ABoreIsReadFromWithin) {
    const TopoDS_Shape bore = BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(0, 0, -1), gp::DZ()), 8, 40).Shape();
    const part::PartPtr block =
        part_of(BRepAlgoAPI_Cut(BRepPrimAPI_MakeBox(gp_Pnt(-15, -15, 0), 30, 30, 20).Shape(), bore).Shape());
    const auto map = map_at(*block, face_of_kind(*block, part::FaceKind::cylinder).index);
    EXPECT_THAT(map->normal({}), Near3(Vec3{0, -1, 0}));
    EXPECT_THAT(map->point({}), Near3(Vec3{0, 8, 10}));
    EXPECT_THAT(map->x_direction({}), Near3(Vec3{1, 0, 0}));
    // Seen from the axis, growing x is to the right: towards +X at the far wall.
    EXPECT_GT(map->point({1, 0}).x, 0.9);
    expect_isometry(*map);
}

TEST(RoundMap, LiesUprightWhicheverWayTheAxisRunsAndThePartIsPlaced) {
    gp_Trsf mirror, turn;
    mirror.SetMirror(gp_Ax2(gp_Pnt(3, 4, 5), gp_Dir(1, 2, 3)));
    turn.SetRotation(gp_Ax1(gp_Pnt(), gp_Dir(1, 1, 0)), 0.4);
    for (const gp_Dir axis : {gp::DX(), gp::DY(), gp_Dir(0, 0, -1), gp_Dir(1, -2, 1)})
        for (const gp_Trsf& placing : {gp_Trsf(), mirror, turn, turn * mirror}) {
            const gp_Ax2 axes(gp_Pnt(3, 2, 1), axis);
            for (const TopoDS_Shape& shape : {TopoDS_Shape(BRepPrimAPI_MakeCylinder(axes, 12, 25).Shape()),
                                              TopoDS_Shape(BRepPrimAPI_MakeCylinder(axes, 12, 25, 2).Shape()),
                                              TopoDS_Shape(BRepPrimAPI_MakeCone(axes, 12, 7, 25).Shape()),
                                              TopoDS_Shape(BRepPrimAPI_MakeCone(axes, 7, 12, 25, 3).Shape())}) {
                const part::PartPtr part = part_of(shape, TopLoc_Location(placing));
                for (const part::Face& face : part->faces()) {
                    if (face.kind == part::FaceKind::plane) continue;
                    const auto map = map_at(*part, face.index);
                    expect_isometry(*map);
                    const Vec3 up = cross(map->normal({}), map->x_direction({}));
                    EXPECT_GT(std::abs(map->normal({}).z) > 0.99 ? up.y : up.z, -1e-9);
                    const gp_Pnt middle = gp_Pnt(gp_Pnt(3, 2, 1).XYZ() + axis.XYZ() * 12).Transformed(placing);
                    EXPECT_GT(dot(map->point({}) - Vec3{middle.X(), middle.Y(), middle.Z()}, map->normal({})), 5);
                }
            }
        }
}

TEST(RoundMap, AConeIsASectorOfItsSlantLength) {
    // Radii 10 and 4 at height 20: slant √(6² + 20²), area π (r1 + r2) slant.
    const part::PartPtr cone = part_of(BRepPrimAPI_MakeCone(10, 4, 20, pi).Shape());
    const part::Face& face = face_of_kind(*cone, part::FaceKind::cone);
    const auto map = map_at(*cone, face.index);
    EXPECT_NEAR(geometry::area(map->room()), pi / 2 * 2 * (10 + 4) * std::hypot(6, 20) / 2, 0.05);
    EXPECT_NEAR(geometry::area(map->room()), face.area_mm2, 0.05);
    expect_isometry(*map);
    const Vec2 half = map->rectangle() * 0.499;
    for (const Vec2 corner : {half, half * -1, Vec2{half.x, -half.y}, Vec2{-half.x, half.y}})
        EXPECT_TRUE(geometry::contains(map->room(), corner));
    // Whole, it is shown a turn to either side.
    const part::PartPtr whole = part_of(BRepPrimAPI_MakeCone(10, 4, 20).Shape());
    const part::Face& all = face_of_kind(*whole, part::FaceKind::cone);
    EXPECT_NEAR(geometry::area(map_at(*whole, all.index)->room()), 2 * all.area_mm2, 0.2);
    // To the apex, and so wide that one turn is all that fits in a plane.
    for (const double height : {20.0, 3.0}) {
        const part::PartPtr pointed = part_of(BRepPrimAPI_MakeCone(10, 0, height).Shape());
        const auto to_apex = map_at(*pointed, face_of_kind(*pointed, part::FaceKind::cone).index);
        expect_isometry(*to_apex);
        EXPECT_GT(to_apex->rectangle().x * to_apex->rectangle().y, 20);
    }
}

TEST(RoundMap, KeepsTheLargestRectangleClearOfHoles) {
    const TopoDS_Shape across = BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(0, 0, 15), gp_Dir(0, -1, 0)), 4, 30).Shape();
    const part::PartPtr rod = part_of(BRepAlgoAPI_Cut(BRepPrimAPI_MakeCylinder(10, 30).Shape(), across).Shape());
    const part::Face* side = nullptr;
    for (const part::Face& face : rod->faces())
        if (face.kind == part::FaceKind::cylinder && face.radius_mm == 10) side = &face;
    ASSERT_TRUE(side);
    const auto map = map_at(*rod, side->index);
    // Beside the hole all the rest of the turn remains: the hole is 2 asin(4 / 10) wide.
    EXPECT_NEAR(map->rectangle().x, 10 * (2 * pi - 2 * std::asin(0.4)), 0.05);
    EXPECT_NEAR(map->rectangle().y, 30, 1e-3);
    EXPECT_LT(distance(map->normal({}), Vec3{0, 1, 0}), 1e-4);
    // Two turns show the hole twice.
    std::size_t holes = 0;
    for (const geometry::Region& region : map->room().regions)
        holes += region.holes.size();
    EXPECT_GE(holes, 1u);
    EXPECT_NEAR(geometry::area(map->room()), 2 * side->area_mm2, 0.1);
}

TEST(RoundMap, CarriesDerivativesOfCurves) {
    const part::PartPtr cone =
        part_of(BRepPrimAPI_MakeCone(gp_Ax2(gp_Pnt(1, 2, 3), gp_Dir(1, 1, 2)), 6, 14, 25).Shape());
    const auto map = map_at(*cone, face_of_kind(*cone, part::FaceKind::cone).index);
    const auto curve = [](double t) { return Vec2{2 * t + t * t, 1 - t + 3 * t * t}; };
    const auto at = [&](double t) { return map->unrolling()->parameters(curve(t)); };
    const auto jet = map->unrolling()->parameters({curve(0.3), {2 + 0.6, -1 + 1.8}, {2, 6}});
    constexpr double h = 1e-4;
    const Vec2 first = (at(0.3 + h) - at(0.3 - h)) * (0.5 / h),
               second = (at(0.3 + h) + at(0.3 - h) - at(0.3) * 2) * (1 / h / h);
    EXPECT_LT(distance(jet.at, at(0.3)), 1e-12);
    EXPECT_LT(distance(jet.first, first), 1e-6);
    EXPECT_LT(distance(jet.second, second), 1e-5);
}

TEST(RoundMap, MapsEveryRoundFaceOfRealParts) {
    int mapped = 0, whole = 0;
    for (const char* name :
         {"as1-oc-214.stp", "io1-cm-214.stp", "frame.step", "sg1-c5-214.stp", "conical-surface.step", "screw.step"}) {
        const part::PartPtr part = read_part(open_part(name));
        for (const part::Face& face : part->faces()) {
            if (face.kind != part::FaceKind::cylinder && face.kind != part::FaceKind::cone) continue;
            const auto map = surface::map_face(*part, face.index);
            ASSERT_TRUE(map) << name << " face " << face.index << ": " << map.error().message;
            ++mapped;
            if ((*map)->unrolling()->closed) {
                ++whole;
                continue;
            }
            double length = 0;
            for (const geometry::Region& region : (*map)->room().regions)
                length += geometry::perimeter({{region}});
            // OpenCASCADE's area against the room's.
            EXPECT_NEAR(geometry::area((*map)->room()), face.area_mm2, 0.002 * length + 1e-6 * face.area_mm2)
                << name << face.index;
            if ((*map)->rectangle().x > 0) {
                const Vec2 half = (*map)->rectangle() * 0.499;
                EXPECT_GT(surface::margin(**map, block(half * -1, half)).distance, -1e-6) << name << face.index;
            }
        }
    }
    EXPECT_GT(mapped, 100);
    EXPECT_GE(whole, 10);
}

} // namespace
} // namespace touchmark::test
