// SPDX-License-Identifier: MIT

// Marks on curved faces that end in a plane.

#include "core/surface/chart.h"
#include "tests/core/imprint/pocket.h"
#include "tests/core/imprint/shapes.h"
#include "tests/support/solid_check.h"

#include <BRepAlgoAPI_Cut.hxx>
#include <BRepBuilderAPI_NurbsConvert.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeCone.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRepPrimAPI_MakeSphere.hxx>
#include <BRepPrimAPI_MakeTorus.hxx>
#include <BRep_Tool.hxx>
#include <STEPControl_Writer.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>
#include <numbers>
#include <unistd.h>

namespace touchmark::test {
namespace {

constexpr double pi = std::numbers::pi;

TopoDS_Shape solid_of(const TopoDS_Shape& shape) {
    return TopExp_Explorer(shape, TopAbs_SOLID).Current();
}

imprint::Footprint flat_mark(const part::Part& part, part::FaceKind kind, geometry::Outline outline, Mode mode,
                             double depth, Vec2 anchor = {}, Laying laying = Laying::wrap) {
    for (const part::Face& face : part.faces())
        if (face.kind == kind) {
            const auto map = surface::map_face(part, face.index);
            if (!map) throw std::runtime_error(map.error().message);
            imprint::Footprint mark{"mark", (*map)->about(anchor, laying), moved(outline, anchor), mode, Mm(depth), {}};
            mark.floor = Floor::flat;
            mark.anchor = anchor;
            return mark;
        }
    throw std::runtime_error("no such face");
}

Result<imprint::Imprinted> put(const part::PartPtr& part, const imprint::Footprint& mark,
                               imprint::RouteChoice route = imprint::RouteChoice::automatic) {
    imprint::Options options;
    options.route = route;
    return imprint::imprint(part, std::span(&mark, 1), options, Progress());
}

void expect_sound(const part::PartPtr& part, const Result<imprint::Imprinted>& made,
                  imprint::Route route = imprint::Route::direct) {
    ASSERT_TRUE(made) << made.error().message;
    EXPECT_EQ(made->marks[0].route, route);
    const Difference is = difference(*part, *made->part, 0);
    EXPECT_TRUE(is.valid);
    EXPECT_TRUE(is.closed);
    EXPECT_EQ(is.more_solids, 0);
    EXPECT_EQ(is.more_shells, 0);
    const double change = made->marks[0].volume_change_mm3;
    EXPECT_NEAR(pocket_volume(*made->part, 0) / change, 1, route == imprint::Route::direct ? 1e-6 : 1e-5);
    STEPControl_Writer writer;
    const auto file = std::filesystem::temp_directory_path() / ("flat_" + std::to_string(getpid()) + ".step");
    writer.Transfer(part::occurrence(*made->part, 0).shape, STEPControl_AsIs);
    writer.Write(file.c_str());
    const SolidFigures read = read_bare(file);
    std::filesystem::remove(file);
    EXPECT_TRUE(read.valid);
    EXPECT_TRUE(read.closed);
    EXPECT_EQ(read.solids, 1);
}

/// Every vertex of the mark's flat faces that are square to the axis, how far along it.
std::pair<double, double> floor_levels(const part::Part& marked, Vec3 axis) {
    double low = 1e300, high = -1e300;
    for (const part::Face& face : marked.faces())
        if (face.mark == "mark" && face.kind == part::FaceKind::plane && std::abs(dot(face.frame.z, axis)) > 0.999999)
            for (TopExp_Explorer item(part::face_shape(marked, face.index), TopAbs_VERTEX); item.More(); item.Next()) {
                const gp_Pnt p = BRep_Tool::Pnt(TopoDS::Vertex(item.Current()));
                const double at = p.X() * axis.x + p.Y() * axis.y + p.Z() * axis.z;
                low = std::min(low, at);
                high = std::max(high, at);
            }
    return {low, high};
}

// Wrapped on a shaft of radius R, a bar from −a to a: its sides stand at the angle a / R, and R cos(a / R) over the
// axis. Over a strip du of the angle lie R cos u − floor, seen R cos u du wide.
TEST(FlatFloor, OfABarOnAShaftTakesWhatTheCircleSays) {
    const double R = 15, a = 5, b = 2, depth = 0.4;
    const part::PartPtr shaft = part_of(BRepPrimAPI_MakeCylinder(R, 40).Shape());
    const geometry::Outline bar{{{rectangle({-a, -b}, {a, b}), {}}}};
    const double u = a / R, edge = R * std::cos(u);
    const auto between = [&](double floor) { // ∫ (R cos u − floor) R cos u du
        return 2 * b * (R * R * (u + std::sin(2 * u) / 2) - floor * R * 2 * std::sin(u));
    };
    for (const Mode mode : relief_modes)
        for (const double along : {0.0, 7.0}) {
            SCOPED_TRACE(std::string(key_of(mode)));
            const Vec2 anchor{along, along / 2};
            const auto made = put(shaft, flat_mark(*shaft, part::FaceKind::cylinder, bar, mode, depth, anchor));
            expect_sound(shaft, made);
            ASSERT_TRUE(made);
            const double floor = mode == Mode::raise ? R + depth : edge - depth;
            EXPECT_NEAR(made->marks[0].volume_change_mm3 / -between(floor), 1, 1e-6);
            // All of the floor lies in one plane.
            const Vec3 out = flat_mark(*shaft, part::FaceKind::cylinder, bar, mode, depth).map->normal(anchor);
            const auto [low, high] = floor_levels(*made->part, out);
            EXPECT_NEAR(low, high, 1e-6);
            EXPECT_NEAR(low, floor, 1e-6);
        }
}

TEST(FlatFloor, IsMadeOverTheSeamOfAShaftAndInABore) {
    const part::PartPtr shaft = part_of(BRepPrimAPI_MakeCylinder(15, 40).Shape());
    for (const part::Face& face : shaft->faces()) {
        if (face.kind != part::FaceKind::cylinder) continue;
        const Vec2 seam = (*surface::map_face(*shaft, face.index))->locate({15, 0, 20});
        for (const Mode mode : relief_modes)
            expect_sound(shaft,
                         put(shaft, flat_mark(*shaft, part::FaceKind::cylinder, lettering(4, 14, 6), mode, 0.4, seam)));
    }
    const part::PartPtr block =
        part_of(solid_of(BRepAlgoAPI_Cut(BRepPrimAPI_MakeBox(gp_Pnt(-30, -30, 0), 60, 60, 30).Shape(),
                                         BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(0, 0, -1), gp::DZ()), 14, 40).Shape())
                             .Shape()));
    for (const Mode mode : relief_modes)
        expect_sound(block, put(block, flat_mark(*block, part::FaceKind::cylinder, lettering(4, 14, 6), mode, 0.4)));
}

// Projected on a ball, a disc of radius r: its rim stands at √(R² − r²); between ball and floor lies
// 2π/3 (R³ − (R² − r²)^(3/2)) − π r² floor.
TEST(FlatFloor, OfAProjectedDiscOnABallTakesTheCapAndACylinder) {
    const double R = 20, r = 4, depth = 0.5;
    geometry::Contour fine;
    constexpr int parts = 48;
    const double step = 2 * pi / parts, k = 4.0 / 3 * std::tan(step / 4);
    for (int i = 0; i < parts; ++i) {
        const auto at = [&](int part) {
            const double angle = step * (part % parts);
            return Vec2{std::cos(angle), std::sin(angle)};
        };
        const Vec2 p = at(i), q = at(i + 1);
        fine.segments.push_back(
            geometry::Segment::cubic(p * r, (p + Vec2{-p.y, p.x} * k) * r, (q - Vec2{-q.y, q.x} * k) * r, q * r));
    }
    const part::PartPtr ball = part_of(solid_of(BRepPrimAPI_MakeSphere(gp_Pnt(1, 2, 3), R).Shape()));
    const part::PartPtr splined =
        part_of(solid_of(BRepBuilderAPI_NurbsConvert(BRepPrimAPI_MakeSphere(R).Shape()).Shape()));
    const double edge = std::sqrt(R * R - r * r), cap = 2 * pi / 3 * (R * R * R - edge * edge * edge);
    for (const auto& [part, kind] :
         {std::pair(ball, part::FaceKind::sphere), std::pair(splined, part::FaceKind::freeform)})
        for (const Mode mode : relief_modes) {
            const auto made = put(part, flat_mark(*part, kind, {{{fine, {}}}}, mode, depth, {3, 1}, Laying::project));
            expect_sound(part, made);
            ASSERT_TRUE(made);
            const double floor = mode == Mode::raise ? R + depth : edge - depth;
            EXPECT_NEAR(made->marks[0].volume_change_mm3 / -(cap - pi * r * r * floor), 1, 1e-6);
        }
}

TEST(FlatFloor, KeepsTheOutlineOfAProjectedMark) {
    const part::PartPtr ring = part_of(solid_of(BRepPrimAPI_MakeTorus(30, 9).Shape()));
    const Vec2 anchor{14, 9}; // away from the seams
    for (const Mode mode : relief_modes) {
        const geometry::Outline outline = lettering(4, 7, 7);
        const auto mark = flat_mark(*ring, part::FaceKind::torus, outline, mode, 0.4, anchor, Laying::project);
        const auto made = put(ring, mark);
        expect_sound(ring, made);
        ASSERT_TRUE(made);
        double area = 0;
        for (const part::Face& face : made->part->faces())
            if (face.mark == "mark" && face.kind == part::FaceKind::plane &&
                std::abs(dot(face.frame.z, mark.map->normal(anchor))) > 0.999999)
                area += face.area_mm2;
        EXPECT_NEAR(area, gauss_area(outline), 1e-6 * area);
    }
}

TEST(FlatFloor, IsCutOverAnEdgeByTheGeneralRoute) {
    const double R = 15, b = 2, depth = 0.4;
    const part::PartPtr shaft = part_of(BRepPrimAPI_MakeCylinder(R, 40).Shape());
    const geometry::Outline bar{{{rectangle({-4, -b}, {4, b}), {}}}};
    for (const auto route : {imprint::RouteChoice::automatic, imprint::RouteChoice::general}) {
        // Half of it beyond the top of the shaft, which is 20 mm over the middle of the face.
        const bool over = route == imprint::RouteChoice::automatic;
        const auto made =
            put(shaft, flat_mark(*shaft, part::FaceKind::cylinder, bar, Mode::engrave, depth, {0, over ? 20.0 : 0.0}),
                route);
        ASSERT_TRUE(made) << made.error().message;
        EXPECT_EQ(made->marks[0].route, imprint::Route::general);
        const Difference is = difference(*shaft, *made->part, 0);
        EXPECT_TRUE(is.valid);
        EXPECT_TRUE(is.closed);
        const double u = 4 / R, floor = R * std::cos(u) - depth;
        const double whole = 2 * b * (R * R * (u + std::sin(2 * u) / 2) - floor * R * 2 * std::sin(u));
        EXPECT_NEAR(is.volume / (over ? -whole / 2 : -whole), 1, 1e-5);
    }
    const auto raised = put(shaft, flat_mark(*shaft, part::FaceKind::cylinder, bar, Mode::raise, depth, {0, 20}));
    ASSERT_FALSE(raised);
    EXPECT_EQ(raised.error().code, "imprint.outside");
}

TEST(FlatFloor, IsRefusedWhereItReachesTooFarRoundOrComesOut) {
    const part::PartPtr shaft = part_of(BRepPrimAPI_MakeCylinder(15, 40).Shape());
    const auto code = [&](const part::PartPtr& part, double half_width) {
        const geometry::Outline bar{{{rectangle({-half_width, -2}, {half_width, 2}), {}}}};
        const auto made = put(part, flat_mark(*part, part::FaceKind::cylinder, bar, Mode::engrave, 0.4));
        return made ? std::string() : made.error().code;
    };
    EXPECT_EQ(code(shaft, 15 * 61 * pi / 180), "imprint.depth");
    EXPECT_EQ(code(shaft, 15 * 59 * pi / 180), "");
    // A tube with a wall of 2 mm: in the middle the floor lies 15 (1 − cos u) + 0.4 deep, 1.91 mm at 26°, 2.08 mm
    // at 27.3°.
    const part::PartPtr tube =
        part_of(solid_of(BRepAlgoAPI_Cut(BRepPrimAPI_MakeCylinder(15, 40).Shape(),
                                         BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(0, 0, -1), gp::DZ()), 13, 60).Shape())
                             .Shape()));
    for (const part::Face& face : tube->faces())
        if (face.kind == part::FaceKind::cylinder && face.radius_mm > 14) {
            for (const double degrees : {26.0, 27.3}) {
                const double a = 15 * degrees * pi / 180;
                imprint::Footprint mark{"mark",
                                        *surface::map_face(*tube, face.index),
                                        {{{rectangle({-a, -2}, {a, 2}), {}}}},
                                        Mode::engrave,
                                        Mm(0.4),
                                        {}};
                mark.floor = Floor::flat;
                const auto made = put(tube, mark);
                EXPECT_EQ(made ? "" : made.error().code, degrees < 27 ? "" : "imprint.pokes_through") << degrees;
            }
        }
}

TEST(FlatFloor, IsThePlainOneOnAFlatFace) {
    const part::PartPtr box = part_of(rounded_box(60, 40, 20, 2));
    imprint::Footprint mark{"mark",
                            *surface::map_face(*box, farthest_flat_face(*box, {0, 0, 1})),
                            lettering(4, 20, 10),
                            Mode::engrave,
                            Mm(0.5),
                            {}};
    const auto plain = put(box, mark);
    mark.floor = Floor::flat;
    const auto flat = put(box, mark);
    ASSERT_TRUE(plain && flat);
    EXPECT_EQ(plain->marks[0].volume_change_mm3, flat->marks[0].volume_change_mm3);
}

TEST(FlatFloor, OnAConeIsSound) {
    const part::PartPtr cone = part_of(BRepPrimAPI_MakeCone(18, 9, 30).Shape());
    for (const Mode mode : relief_modes)
        expect_sound(cone, put(cone, flat_mark(*cone, part::FaceKind::cone, lettering(5, 12, 8), mode, 0.4)));
}

} // namespace
} // namespace touchmark::test
