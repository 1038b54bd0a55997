// SPDX-License-Identifier: MIT
#include "core/surface/chart.h"
#include "core/surface/face_map.h"
#include "tests/core/surface/parts.h"
#include "tests/support/open_parts.h"

#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_NurbsConvert.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeSphere.hxx>
#include <BRepPrimAPI_MakeTorus.hxx>
#include <BRepTools.hxx>
#include <BRep_Builder.hxx>
#include <gp_Ax2.hxx>

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace touchmark::test {
namespace {

using surface::FaceMapPtr;

FaceMapPtr map_of_kind(const part::Part& part, part::FaceKind kind) {
    for (const part::Face& face : part.faces())
        if (face.kind == kind) {
            auto map = surface::map_face(part, face.index);
            if (!map) throw std::runtime_error(map.error().message);
            return *map;
        }
    throw std::runtime_error("no such face");
}

/// Without a seam or a pole in the way.
part::PartPtr ball(double radius) {
    return part_of(BRepPrimAPI_MakeSphere(gp_Ax2(gp_Pnt(3, -2, 5), gp_Dir(0, 0, 1)), radius).Shape());
}

part::PartPtr ring(double major, double minor) {
    return part_of(BRepPrimAPI_MakeTorus(gp_Ax2(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1)), major, minor).Shape());
}

/// The same surfaces as rational B-splines.
part::PartPtr splined(const TopoDS_Shape& shape) {
    return part_of(BRepBuilderAPI_NurbsConvert(shape).Shape());
}

/// Length of the image of a straight line, by many chords and one step of Richardson's extrapolation.
double length_of_image(const surface::FaceMap& map, Vec2 from, Vec2 to) {
    const auto chords = [&](int count) {
        double sum = 0;
        for (int i = 0; i < count; ++i) {
            const auto at = [&](int k) { return from + (to - from) * (static_cast<double>(k) / count); };
            sum += distance(map.point(at(i)), map.point(at(i + 1)));
        }
        return sum;
    };
    return (4 * chords(400) - chords(200)) / 3;
}

void expect_agrees_at(const surface::FaceMap& whole, const surface::FaceMap& local, Vec2 at) {
    EXPECT_LT(distance(whole.point(at), local.point(at)), 1e-9);
    EXPECT_LT(distance(whole.normal(at), local.normal(at)), 1e-9);
    EXPECT_LT(distance(whole.x_direction(at), local.x_direction(at)), 1e-6);
    EXPECT_LT(distance(local.on_face(at), at), 1e-9);
}

TEST(Curved, WrapsOnASphereByGreatCircles) {
    // A point at the distance s from another lies at the angle s / R from it, in the direction in which one set out
    // (spherical polar coordinates; do Carmo, Differential Geometry of Curves and Surfaces, 4-6).
    const double radius = 20;
    const part::PartPtr part = ball(radius);
    const FaceMapPtr whole = map_of_kind(*part, part::FaceKind::sphere);
    const Vec3 centre{3, -2, 5};
    for (const Vec2 anchor : {Vec2{0, 0}, Vec2{7, 4}, Vec2{-12, -9}}) {
        const FaceMapPtr map = whole->about(anchor, Laying::wrap);
        expect_agrees_at(*whole, *map, anchor);
        const Vec3 out = normalised(map->point(anchor) - centre), x = map->x_direction(anchor), y = cross(out, x);
        for (const Vec2 q : {Vec2{5, 0}, Vec2{0, 8}, Vec2{-11, 3}, Vec2{9, -9}}) {
            const Vec3 to = normalised(map->point(anchor + q) - centre);
            EXPECT_NEAR(std::acos(dot(out, to)) * radius, length(q), 1e-9);
            EXPECT_NEAR(std::atan2(dot(to, y), dot(to, x)), std::atan2(q.y, q.x), 1e-9);
            EXPECT_LT(distance(map->locate(map->point(anchor + q)), anchor + q), 1e-6);
        }
    }
}

TEST(Curved, ProjectsAlongTheNormalAtTheAnchor) {
    // An orthographic projection leaves the two coordinates in the plane as they are.
    const part::PartPtr sphere = ball(20), torus = ring(30, 9), spline = splined(BRepPrimAPI_MakeTorus(30, 9).Shape());
    for (const auto& [part, kind] : {std::pair(sphere, part::FaceKind::sphere), std::pair(torus, part::FaceKind::torus),
                                     std::pair(spline, part::FaceKind::freeform)}) {
        const FaceMapPtr whole = map_of_kind(*part, kind);
        const Vec2 anchor{1.5, -0.5};
        const FaceMapPtr map = whole->about(anchor, Laying::project);
        expect_agrees_at(*whole, *map, anchor);
        const Vec3 normal = map->normal(anchor), x = map->x_direction(anchor);
        const Frame frame{map->point(anchor), x, cross(normal, x), normal};
        for (const Vec2 q : {Vec2{4, 0}, Vec2{0, 3}, Vec2{-3, 2.5}, Vec2{2, -4}}) {
            const Vec2 seen = frame.to_plane(map->point(anchor + q));
            EXPECT_LT(distance(seen, q), kind == part::FaceKind::sphere ? 1e-9 : 2e-5) << key_of(kind);
        }
    }
}

TEST(Curved, WrapsOnATorusByGeodesics) {
    const double major = 30, minor = 9;
    const part::PartPtr analytic = ring(major, minor), spline = splined(BRepPrimAPI_MakeTorus(major, minor).Shape());
    for (const auto& [part, kind] :
         {std::pair(analytic, part::FaceKind::torus), std::pair(spline, part::FaceKind::freeform)}) {
        const FaceMapPtr whole = map_of_kind(*part, kind);
        const Vec2 anchor{4, 2};
        const FaceMapPtr map = whole->about(anchor, Laying::wrap);
        expect_agrees_at(*whole, *map, anchor);
        for (const Vec2 way : {Vec2{1, 0}, Vec2{0, 1}, Vec2{0.6, 0.8}, Vec2{-0.8, 0.6}, Vec2{-0.28, -0.96}}) {
            EXPECT_NEAR(length_of_image(*map, anchor, anchor + way * 8), 8, 4e-4) << key_of(kind);
            // Clairaut's relation: the distance from the axis times the sine of the angle to the meridian stays
            // (do Carmo, 4-4).
            const auto clairaut = [&](double s) {
                const double step = 1e-3;
                const Vec3 p = map->point(anchor + way * s);
                const Vec3 t =
                    normalised(map->point(anchor + way * (s + step)) - map->point(anchor + way * (s - step)));
                const double from_axis = std::hypot(p.x, p.y);
                return from_axis * (t.y * p.x - t.x * p.y) / from_axis;
            };
            const double start = clairaut(0.01);
            for (const double s : {2.0, 5.0, 8.0})
                EXPECT_NEAR(clairaut(s), start, 2e-3) << key_of(kind) << " " << s;
        }
    }
}

TEST(Curved, AMarkMayLieOverASeamButNotOverAPole) {
    const part::PartPtr part = ball(20);
    const FaceMapPtr whole = map_of_kind(*part, part::FaceKind::sphere);
    // The seam of OpenCASCADE's sphere is at y = centre, x > centre.
    const Vec2 at = whole->locate({23, -2, 5});
    const FaceMapPtr seam = whole->about(at, Laying::wrap);
    EXPECT_LT(distance(seam->point(at), {23, -2, 5}), 1e-6);
    const double inside = surface::margin(*seam, block(at - Vec2{10, 4}, at + Vec2{10, 4})).distance;
    EXPECT_GT(inside, 10);
    const Vec2 high = whole->locate({3, -2 - 20 * std::cos(1.4), 5 + 20 * std::sin(1.4)});
    const FaceMapPtr pole = whole->about(high, Laying::wrap);
    EXPECT_LT(surface::margin(*pole, block(high - Vec2{5, 5}, high + Vec2{5, 5})).distance, 0);
}

TEST(Curved, TheRoomOfALocalMapIsTheFacesOwnBoundary) {
    // Of a quarter of a torus' outside, as a B-spline.
    const part::PartPtr part =
        splined(BRepPrimAPI_MakeTorus(gp_Ax2(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1)), 40, 12, -0.9, 0.9, 1.4).Shape());
    const FaceMapPtr whole = map_of_kind(*part, part::FaceKind::freeform);
    EXPECT_GT(whole->rectangle().x, 15);
    EXPECT_GT(whole->rectangle().y, 15);
    for (const Laying laying : {Laying::wrap, Laying::project}) {
        const FaceMapPtr map = whole->about({}, laying);
        ASSERT_FALSE(map->room().empty());
        EXPECT_GT(map->rectangle().x, 15);
        // The meridian from the equator to the edge is an arc of 0.9 rad on a radius of 12.
        const Vec3 start = map->point({});
        EXPECT_NEAR(start.z, 0, 0.02);
        const double edge = surface::margin(*map, block({-0.001, -0.001}, {0.001, 0.001})).distance;
        EXPECT_NEAR(edge, laying == Laying::wrap ? 12 * 0.9 : 12 * std::sin(0.9), 0.02);
    }
}

TEST(Curved, EveryFreeformFaceOfTheOpenSetHasAMapThatAgreesWithItsPlaces) {
    int mapped = 0;
    for (const char* name : {"Bottom.brep", "Top.brep"}) { // rounded with a varying radius
        TopoDS_Shape shape;
        BRep_Builder builder;
        ASSERT_TRUE(BRepTools::Read(shape, open_part(name).c_str(), builder));
        const part::PartPtr part = part_of(shape);
        for (const part::Face& face : part->faces()) {
            if (face.kind != part::FaceKind::freeform || face.area_mm2 < 1) continue;
            const auto whole = surface::map_face(*part, face.index);
            if (!whole) {
                EXPECT_EQ(whole.error().code, "surface.degenerate") << name << " " << face.index;
                continue;
            }
            ++mapped;
            if (mapped % 5 != 0) continue;
            const FaceMapPtr map = (*whole)->about({}, Laying::wrap);
            expect_agrees_at(**whole, *map, {});
            const double reach = std::min(length((*whole)->rectangle()) / 4, 10.0);
            for (const Vec2 way : {Vec2{1, 0}, Vec2{0, 1}, Vec2{-0.6, 0.8}}) {
                const Vec2 to = way * reach;
                if (!map->chart()->holds(to) || !geometry::contains(map->room(), to)) continue;
                EXPECT_NEAR(length_of_image(*map, {}, to) / reach, 1, 2e-4) << name << " " << face.index;
                EXPECT_LT(distance(map->locate(map->point(to)), to), 1e-4) << name << " " << face.index;
            }
        }
    }
    EXPECT_GT(mapped, 50);
}

} // namespace
} // namespace touchmark::test
