// SPDX-License-Identifier: MIT
#include "core/surface/chart.h"
#include "tests/core/imprint/pocket.h"
#include "tests/core/imprint/shapes.h"
#include "tests/support/solid_check.h"

#include <BRepAlgoAPI_Cut.hxx>
#include <BRepBuilderAPI_NurbsConvert.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeSphere.hxx>
#include <BRepPrimAPI_MakeTorus.hxx>
#include <STEPControl_Writer.hxx>
#include <TopExp_Explorer.hxx>
#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>
#include <numbers>
#include <unistd.h>

namespace touchmark::test {
namespace {

constexpr double pi = std::numbers::pi;
constexpr double ball_radius = 20, major = 30, minor = 9;

TopoDS_Shape solid_of(const TopoDS_Shape& shape) {
    return TopExp_Explorer(shape, TopAbs_SOLID).Current();
}

TopoDS_Shape ball() {
    return solid_of(BRepPrimAPI_MakeSphere(gp_Pnt(1, 2, 3), ball_radius).Shape());
}
/// A block with a hollow half ball in its top: the face is REVERSED, the material outside.
TopoDS_Shape dish() {
    return solid_of(BRepAlgoAPI_Cut(BRepPrimAPI_MakeBox(gp_Pnt(-30, -30, -30), 60, 60, 30).Shape(),
                                    BRepPrimAPI_MakeSphere(ball_radius).Shape())
                        .Shape());
}
TopoDS_Shape ring_shape() {
    return solid_of(BRepPrimAPI_MakeTorus(major, minor).Shape());
}
TopoDS_Shape splined(const TopoDS_Shape& shape) {
    return solid_of(BRepBuilderAPI_NurbsConvert(shape).Shape());
}

surface::FaceMapPtr local_map(const part::Part& part, part::FaceKind kind, Vec2 at, Laying laying = Laying::wrap) {
    for (const part::Face& face : part.faces())
        if (face.kind == kind) {
            const auto map = surface::map_face(part, face.index);
            if (!map) throw std::runtime_error(map.error().message);
            return (*map)->about(at, laying);
        }
    throw std::runtime_error("no such face");
}

imprint::Footprint footprint(surface::FaceMapPtr map, geometry::Outline outline, Mode mode, double depth) {
    return {"mark", std::move(map), std::move(outline), mode, Mm(depth), {}};
}

/// Cubics within 1e-10 of the circle.
geometry::Contour fine_circle(Vec2 centre, double radius) {
    constexpr int parts = 48;
    geometry::Contour contour;
    const double step = 2 * pi / parts, k = 4.0 / 3 * std::tan(step / 4);
    for (int i = 0; i < parts; ++i) {
        const auto at = [&](int part) {
            const double angle = step * (part % parts);
            return Vec2{std::cos(angle), std::sin(angle)};
        };
        const Vec2 a = at(i), b = at(i + 1);
        const auto place = [&](Vec2 p) { return centre + p * radius; };
        contour.segments.push_back(geometry::Segment::cubic(place(a), place(a + Vec2{-a.y, a.x} * k),
                                                            place(b - Vec2{-b.y, b.x} * k), place(b)));
    }
    return contour;
}

SolidFigures written_and_read(const TopoDS_Shape& shape) {
    STEPControl_Writer writer;
    const auto file = std::filesystem::temp_directory_path() / ("freeform_" + std::to_string(getpid()) + ".step");
    if (writer.Transfer(shape, STEPControl_AsIs) != IFSelect_RetDone || writer.Write(file.c_str()) != IFSelect_RetDone)
        throw std::runtime_error("cannot write " + file.string());
    const SolidFigures read = read_bare(file);
    std::filesystem::remove(file);
    return read;
}

/// Makes the mark, and looks at the result with OpenCASCADE alone; the volume that the mark takes.
double made(const part::PartPtr& part, const imprint::Footprint& mark,
            imprint::RouteChoice route = imprint::RouteChoice::direct) {
    imprint::Options options;
    options.route = route;
    const auto marked = imprint::imprint(part, std::span(&mark, 1), options, Progress());
    if (!marked) {
        ADD_FAILURE() << marked.error().code << ": " << marked.error().message;
        return 0;
    }
    const int body = part->faces()[static_cast<std::size_t>(mark.map->face())].body;
    const Difference is = difference(*part, *marked->part, body);
    EXPECT_TRUE(is.valid);
    EXPECT_TRUE(is.closed);
    EXPECT_TRUE(is.same_counts);
    const double change = marked->marks[0].volume_change_mm3;
    EXPECT_EQ(change < 0, mark.mode == Mode::engrave);
    if (route == imprint::RouteChoice::direct) {
        EXPECT_NEAR(std::abs(pocket_volume(*marked->part, body) / change), 1, 1e-6);
    }
    if (mark.mode == Mode::raise) return std::abs(change); // once is enough: writing and reading takes its time
    const SolidFigures read = written_and_read(part::occurrence(*marked->part, body).shape);
    EXPECT_TRUE(read.valid);
    EXPECT_TRUE(read.closed);
    EXPECT_EQ(read.solids, 1);
    return std::abs(change);
}

TEST(Freeform, OnASphereTheVolumeIsThatOfAConeBetweenTwoSpheres) {
    // A circle of radius a, wrapped, is the edge of a cap of the half angle a / R: solid angle 2π (1 − cos(a / R)).
    const double a = 6, d = 0.8, solid_angle = 2 * pi * (1 - std::cos(a / ball_radius));
    const auto between = [&](double low, double high) {
        return solid_angle * (high * high * high - low * low * low) / 3;
    };
    const geometry::Outline disc{{{fine_circle({2, 1}, a), {}}}};
    const part::PartPtr solid = part_of(ball()), hollow = part_of(dish());
    for (const Mode mode : {Mode::engrave, Mode::raise}) {
        const bool outwards = mode == Mode::raise;
        const double on_ball = made(solid, footprint(local_map(*solid, part::FaceKind::sphere, {2, 1}), disc, mode, d));
        EXPECT_NEAR(on_ball /
                        (outwards ? between(ball_radius, ball_radius + d) : between(ball_radius - d, ball_radius)),
                    1, 1e-8);
        const auto map = local_map(*hollow, part::FaceKind::sphere, {2, 1});
        const double in_dish = made(hollow, footprint(map, disc, mode, d));
        EXPECT_NEAR(in_dish /
                        (outwards ? between(ball_radius - d, ball_radius) : between(ball_radius, ball_radius + d)),
                    1, 1e-8);
    }
}

TEST(Freeform, OnATorusTheVolumeIsThatOfASectorOfItsTube) {
    // Between the tubes r₀ and r₁, the angles v₀ and v₁ round the tube and Δu round the axis (cylindrical coordinates):
    // Δu [R (r₁² − r₀²) / 2 Δv + (r₁³ − r₀³) / 3 (sin v₁ − sin v₀)].
    const double d = 0.7, u = 0.12, v0 = 0.2, v1 = 0.9; // off the seam, which is at v = 0
    const auto between = [&](double low, double high) {
        return 2 * u *
               (major * (high * high - low * low) / 2 * (v1 - v0) +
                (high * high * high - low * low * low) / 3 * (std::sin(v1) - std::sin(v0)));
    };
    for (const bool as_spline : {false, true}) {
        const part::PartPtr part = part_of(as_spline ? splined(ring_shape()) : ring_shape());
        const auto map = local_map(*part, as_spline ? part::FaceKind::freeform : part::FaceKind::torus, {0, 5});
        const Vec3 front = map->point({0, 5});
        const double middle = std::atan2(front.y, front.x);
        geometry::Polygon corners;
        const auto add = [&](double du, double v) {
            const double from_axis = major + minor * std::cos(v);
            const Vec3 p{from_axis * std::cos(middle + du), from_axis * std::sin(middle + du), minor * std::sin(v)};
            corners.push_back(map->locate(p));
        };
        constexpr int many = 24;
        for (int i = 0; i < many; ++i)
            add(-u + 2 * u * i / many, v0);
        for (int i = 0; i < many; ++i)
            add(u, v0 + (v1 - v0) * i / many);
        for (int i = 0; i < many; ++i)
            add(u - 2 * u * i / many, v1);
        for (int i = 0; i < many; ++i)
            add(-u, v1 - (v1 - v0) * i / many);
        if (geometry::area(corners) < 0) std::ranges::reverse(corners);
        const geometry::Outline patch{{{geometry::contour_of(corners), {}}}};
        // The polygon's sides cut corners of the two arcs, by some 3e-4 of the area.
        EXPECT_NEAR(made(part, footprint(map, patch, Mode::engrave, d)) / between(minor - d, minor), 1, 6e-4);
        EXPECT_NEAR(made(part, footprint(map, patch, Mode::raise, d)) / between(minor, minor + d), 1, 6e-4);
    }
}

TEST(Freeform, LettersGoOnEveryKindBothWaysAndLaidBothWays) {
    for (const auto& [shape, kind] :
         {std::pair(ball(), part::FaceKind::sphere), std::pair(dish(), part::FaceKind::sphere),
          std::pair(ring_shape(), part::FaceKind::torus), std::pair(splined(dish()), part::FaceKind::freeform),
          std::pair(splined(ring_shape()), part::FaceKind::freeform)}) {
        const part::PartPtr part = part_of(shape);
        for (const Laying laying : {Laying::wrap, Laying::project})
            for (const Mode mode : {Mode::engrave, Mode::raise}) {
                const Vec2 at{1.3, 8}; // off the seams
                const auto map = local_map(*part, kind, at, laying);
                const geometry::Outline outline = moved(lettering(4, 10, 5), at, 17);
                SCOPED_TRACE(std::string(key_of(kind)) + " " + std::string(key_of(mode)) + " " +
                             std::string(key_of(laying)));
                made(part, footprint(map, outline, mode, 0.4));
            }
    }
}

TEST(Freeform, TheGeneralRouteAgreesWithTheDirectOne) {
    for (const auto& [shape, kind] :
         {std::pair(ball(), part::FaceKind::sphere), std::pair(ring_shape(), part::FaceKind::torus),
          std::pair(splined(ring_shape()), part::FaceKind::freeform)}) {
        const part::PartPtr part = part_of(shape);
        const auto map = local_map(*part, kind, {1, 8});
        for (const Mode mode : {Mode::engrave, Mode::raise}) {
            if (kind == part::FaceKind::freeform && mode == Mode::raise) continue; // some seconds
            const imprint::Footprint mark = footprint(map, moved(lettering(2, 6, 3), {1, 8}), mode, 0.4);
            SCOPED_TRACE(std::string(key_of(kind)) + " " + std::string(key_of(mode)));
            const double direct = made(part, mark), general = made(part, mark, imprint::RouteChoice::general);
            EXPECT_NEAR(general / direct, 1, 1e-5);
        }
    }
}

TEST(Freeform, OverASeamTheGeneralCutMakesIt) {
    // The seam of OpenCASCADE's sphere runs through x > centre, y = centre.
    const double a = 2.5, d = 0.5, solid_angle = 2 * pi * (1 - std::cos(a / ball_radius));
    const part::PartPtr part = part_of(ball());
    const auto whole = surface::map_face(*part, 0);
    ASSERT_TRUE(whole);
    const Vec2 at = (*whole)->locate({1 + ball_radius, 2, 3});
    const imprint::Footprint mark =
        footprint((*whole)->about(at, Laying::wrap), {{{fine_circle(at, a), {}}}}, Mode::engrave, d);
    const double taken = made(part, mark, imprint::RouteChoice::automatic);
    const double low = ball_radius - d;
    EXPECT_NEAR(taken / (solid_angle * (std::pow(ball_radius, 3) - std::pow(low, 3)) / 3), 1, 1e-5);
}

TEST(Freeform, ACutAsDeepAsTheFaceIsCurvedIsRefusedWithTheRadius) {
    const part::PartPtr part = part_of(ring_shape());
    const auto map = local_map(*part, part::FaceKind::torus, {});
    const imprint::Footprint mark = footprint(map, lettering(2, 6, 3), Mode::engrave, 9.2);
    const auto marked = imprint::imprint(part, std::span(&mark, 1), {}, Progress());
    ASSERT_FALSE(marked);
    EXPECT_EQ(marked.error().code, "imprint.depth");
    EXPECT_NE(marked.error().message.find("9"), std::string::npos);
}

} // namespace
} // namespace touchmark::test
