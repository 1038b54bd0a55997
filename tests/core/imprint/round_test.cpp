// SPDX-License-Identifier: MIT
#include "core/imprint/clearance.h"
#include "core/surface/unrolling.h"
#include "tests/core/imprint/shapes.h"
#include "tests/support/solid_check.h"

#include <BRepAlgoAPI_Cut.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeCone.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <STEPControl_Writer.hxx>
#include <TopExp_Explorer.hxx>
#include <gtest/gtest.h>

#include <filesystem>
#include <numbers>
#include <random>

namespace touchmark::test {
namespace {

constexpr double pi = std::numbers::pi;

TopoDS_Shape solid_of(const TopoDS_Shape& shape) {
    return TopExp_Explorer(shape, TopAbs_SOLID).Current();
}

int round_face(const part::Part& part, double radius = 0) {
    for (const part::Face& face : part.faces())
        if ((face.kind == part::FaceKind::cylinder || face.kind == part::FaceKind::cone) &&
            (radius == 0 || std::abs(face.radius_mm - radius) < 1e-6))
            return face.index;
    throw std::runtime_error("no round face");
}

imprint::Footprint on_round(const part::Part& part, geometry::Outline outline, Mode mode, double depth,
                            double radius = 0) {
    auto map = surface::map_face(part, round_face(part, radius));
    if (!map) throw std::runtime_error(map.error().message);
    return {"mark", *map, std::move(outline), mode, Mm(depth), {}};
}

Result<imprint::Imprinted> put(const part::PartPtr& part, const imprint::Footprint& mark) {
    return imprint::imprint(part, std::span(&mark, 1), {}, Progress());
}

SolidFigures written_and_read(const TopoDS_Shape& shape) {
    STEPControl_Writer writer;
    const auto file = std::filesystem::temp_directory_path() / ("round_" + std::to_string(getpid()) + ".step");
    if (writer.Transfer(shape, STEPControl_AsIs) != IFSelect_RetDone || writer.Write(file.c_str()) != IFSelect_RetDone)
        throw std::runtime_error("cannot write " + file.string());
    const SolidFigures read = read_bare(file);
    std::filesystem::remove(file);
    return read;
}

/// Between the cylinder and the parallel one: A d (1 ∓ d / 2R), for the unrolled area A is R times the angle that the
/// mark covers times its height.
double on_cylinder(const imprint::Footprint& mark, double radius, double outward) {
    const double d = mark.depth.value, away = (mark.mode == Mode::engrave ? -d : d) * outward;
    const double volume =
        gauss_area(mark.outline) / radius * std::abs(std::pow(radius + away, 2) - radius * radius) / 2;
    return mark.mode == Mode::engrave ? -volume : volume;
}

void expect_good(const part::PartPtr& part, const imprint::Footprint& mark, double expected,
                 imprint::Route route = imprint::Route::direct, bool through_step = false) {
    const auto marked = put(part, mark);
    ASSERT_TRUE(marked) << marked.error().message;
    EXPECT_EQ(marked->marks[0].route, route);
    const Difference is = difference(*part, *marked->part, 0);
    EXPECT_TRUE(is.valid);
    EXPECT_TRUE(is.closed);
    EXPECT_TRUE(is.same_counts);
    const double tolerance = route == imprint::Route::direct ? 1e-6 : 1e-5;
    EXPECT_NEAR(is.volume / expected, 1, tolerance);
    EXPECT_NEAR(marked->marks[0].volume_change_mm3 / expected, 1, tolerance);
    if (!through_step) return;
    const SolidFigures read = written_and_read(part::occurrence(*marked->part, 0).shape);
    EXPECT_TRUE(read.valid && read.closed);
    EXPECT_EQ(read.solids, 1);
    EXPECT_NEAR(read.volume, part->volume_mm3() + expected, 1e-6 * part->volume_mm3());
}

class RoundModes : public testing::TestWithParam<Mode> {};
INSTANTIATE_TEST_SUITE_P(BothModes, RoundModes, testing::ValuesIn(relief_modes),
                         [](const auto& mode) { return std::string(key_of(mode.param)); });

TEST_P(RoundModes, ChangesAShaftByTheExactVolume) {
    const part::PartPtr rod = part_of(BRepPrimAPI_MakeCylinder(15, 40).Shape());
    for (const double turn : {0.0, 90.0, 33.0}) {
        const auto mark = on_round(*rod, moved(lettering(6, 15, 12), {3, 2}, turn), GetParam(), 0.5);
        expect_good(rod, mark, on_cylinder(mark, 15, 1), imprint::Route::direct, turn == 33);
    }
}

TEST_P(RoundModes, ChangesABoreByTheExactVolume) {
    const TopoDS_Shape bore = BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(0, 0, -1), gp::DZ()), 12, 40).Shape();
    const part::PartPtr block =
        part_of(solid_of(BRepAlgoAPI_Cut(BRepPrimAPI_MakeBox(gp_Pnt(-20, -20, 0), 40, 40, 30).Shape(), bore).Shape()));
    const auto mark = on_round(*block, lettering(6, 15, 10), GetParam(), 0.4);
    expect_good(block, mark, on_cylinder(mark, 12, -1), imprint::Route::direct, true);
}

TEST_P(RoundModes, LiesAcrossTheSeam) {
    // OpenCASCADE's seam is at +X; the map faces −Y, a quarter of a turn from there.
    const part::PartPtr rod = part_of(BRepPrimAPI_MakeCylinder(15, 40).Shape());
    for (const double x : {15 * pi / 2 + 0.7, -15 * pi * 3 / 2 + 0.4})
        for (const double turn : {0.0, 45.0}) {
            const auto mark = on_round(*rod, moved(lettering(6, 15, 12), {x, 2}, turn), GetParam(), 0.5);
            expect_good(rod, mark, on_cylinder(mark, 15, 1), imprint::Route::direct, turn == 45 && x > 0);
        }
}

TEST_P(RoundModes, MayHaveCornersAndSidesOnTheSeam) {
    const part::PartPtr rod = part_of(BRepPrimAPI_MakeCylinder(15, 40).Shape());
    const double x = 15 * pi / 2;
    const geometry::Polygon diamond{{-3, 0}, {0, -2}, {3, 0}, {0, 2}},
        notched{{-3, -3}, {3, -3}, {3, 3}, {0, 0}, {-3, 3}}, spike{{0, 0}, {4, -2}, {4, 2}};
    const auto at = [&](geometry::Contour contour) { return moved({{{std::move(contour), {}}}}, {x, 0}); };
    for (const geometry::Outline& outline :
         {at(rectangle({0, -2}, {4, 2})), at(rectangle({-4, -2}, {0, 2})), at(geometry::contour_of(diamond)),
          at(geometry::contour_of(notched)), at(circle({0, 0}, 3)), moved(lettering(12, 30, 12), {x, 0})}) {
        const auto mark = on_round(*rod, outline, GetParam(), 0.5);
        expect_good(rod, mark, on_cylinder(mark, 15, 1));
    }
    // Only touching it is left to the general cut.
    const auto touching = on_round(*rod, at(geometry::contour_of(spike)), GetParam(), 0.5);
    expect_good(rod, touching, on_cylinder(touching, 15, 1), imprint::Route::general);
}

TEST_P(RoundModes, GoesRoundAlmostTheWholeShaft) {
    const part::PartPtr rod = part_of(BRepPrimAPI_MakeCylinder(10, 30).Shape());
    const auto mark = on_round(*rod, moved(lettering(24, 61, 10), {5, 0}), GetParam(), 0.3);
    expect_good(rod, mark, on_cylinder(mark, 10, 1));
    const auto too_long = on_round(*rod, {{{rectangle({-32, -1}, {32, 1}), {}}}}, GetParam(), 0.3);
    const auto refused = put(rod, too_long);
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.error().code, "imprint.overlap");
}

/// ∫ over the offset of a cone, by a fine grid of the region's polygon in the unrolled plane: independent of the
/// contour integral that the code uses.
double on_cone(const imprint::Footprint& mark, double half_angle) {
    const surface::Unrolling& s = *mark.map->unrolling();
    const double d = mark.mode == Mode::engrave ? -mark.depth.value : mark.depth.value;
    double volume = 0;
    constexpr int n = 200; // midpoint rule; the outline is a rectangle, so it converges as 1 / n²
    const Box2 box = geometry::bounds(mark.outline);
    for (int i = 0; i < n; ++i)
        for (int j = 0; j < n; ++j) {
            const Vec2 p{box.low.x + box.width() * (i + 0.5) / n, box.low.y + box.height() * (j + 0.5) / n};
            const double radius = s.radius_at(s.parameters(p).y) / std::cos(half_angle);
            volume += d * (1 + d / (2 * radius)) * box.width() * box.height() / n / n;
        }
    return volume;
}

TEST_P(RoundModes, ChangesAConeByTheExactVolume) {
    const part::PartPtr cone = part_of(BRepPrimAPI_MakeCone(15, 9, 30).Shape());
    const double half_angle = std::atan(6.0 / 30);
    const auto block = on_round(*cone, {{{rectangle({-9, -4}, {8, 5}), {}}}}, GetParam(), 0.5);
    expect_good(cone, block, on_cone(block, half_angle));
    for (const Vec2 at : {Vec2{12, 3}, Vec2{20, -2}}) {
        const auto mark = on_round(*cone, moved(lettering(6, 15, 10), at, 10), GetParam(), 0.5);
        const auto marked = put(cone, mark);
        ASSERT_TRUE(marked) << marked.error().message;
        expect_good(cone, mark, marked->marks[0].volume_change_mm3, imprint::Route::direct,
                    at.x == 12 && GetParam() == Mode::engrave);
    }
}

TEST_P(RoundModes, HoldsAtRandomPlacesTurnsAndSizes) {
    std::mt19937 random(11);
    const auto pick = [&](double low, double high) { return std::uniform_real_distribution(low, high)(random); };
    for (int i = 0; i < 5; ++i) {
        const double radius = pick(6, 25), top = i % 2 ? radius : radius * pick(0.5, 0.9);
        const gp_Ax2 axes(gp_Pnt(pick(-50, 50), pick(-50, 50), 0), gp_Dir(pick(-1, 1), pick(-1, 1), pick(-1, 1)));
        const part::PartPtr part = part_of(i % 2 ? TopoDS_Shape(BRepPrimAPI_MakeCylinder(axes, radius, 40).Shape())
                                                 : TopoDS_Shape(BRepPrimAPI_MakeCone(axes, radius, top, 40).Shape()));
        const double size = pick(0.3, 0.9);
        auto mark = on_round(*part, {}, GetParam(), pick(0.1, 0.8));
        // Anywhere round the part, also on the seam.
        const surface::Unrolling& s = *mark.map->unrolling();
        const Vec2 at = s.at({s.centre.x + pick(-1, 1) * 0.9 * std::min(pi, 3 / std::max(1e-9, s.sine)), s.centre.y});
        mark.outline = moved(lettering(6, 14 * size, 14 * size), at, pick(0, 360));
        const auto marked = put(part, mark);
        ASSERT_TRUE(marked) << i << ": " << marked.error().message;
        EXPECT_EQ(marked->marks[0].route, imprint::Route::direct);
        const Difference is = difference(*part, *marked->part, 0);
        EXPECT_TRUE(is.valid && is.closed && is.same_counts) << i;
        EXPECT_NEAR(is.volume / marked->marks[0].volume_change_mm3, 1, 1e-6) << i;
    }
}

std::string code_of(const part::PartPtr& part, const imprint::Footprint& mark, imprint::Options options = {}) {
    const auto marked = imprint::imprint(part, std::span(&mark, 1), options, Progress());
    return marked ? "" : marked.error().code;
}

TEST(RoundRefusals, NothingGoesThroughTheWallOfATubeOrToTheAxis) {
    const TopoDS_Shape bore = BRepPrimAPI_MakeCylinder(8, 40).Shape();
    const part::PartPtr tube =
        part_of(solid_of(BRepAlgoAPI_Cut(BRepPrimAPI_MakeCylinder(10, 40).Shape(), bore).Shape()));
    const auto cut = [&](double depth) { return on_round(*tube, lettering(6, 15, 10), Mode::engrave, depth, 10); };
    EXPECT_EQ(code_of(tube, cut(1.9)), "");
    EXPECT_EQ(code_of(tube, cut(1.98)), "imprint.pokes_through"); // 0.02 left, 0.05 wanted
    EXPECT_EQ(code_of(tube, cut(2.5)), "imprint.pokes_through");
    EXPECT_EQ(code_of(tube, cut(1.5), {Mm(0.6), {}}), "imprint.pokes_through");
    const auto around = imprint::Obstacles::of(*tube, {Mm(0.005), Degrees(5)}, Progress());
    ASSERT_TRUE(around);
    EXPECT_NEAR((*around)->wall_behind(cut(0.5))->thickness, 1.5, 0.02);
    const part::PartPtr rod = part_of(BRepPrimAPI_MakeCylinder(3, 40).Shape());
    EXPECT_EQ(code_of(rod, on_round(*rod, lettering(3, 8, 4), Mode::engrave, 3)), "imprint.depth");
    EXPECT_EQ(code_of(tube, on_round(*tube, lettering(3, 8, 4), Mode::raise, 8.5, 8)), "imprint.depth");
}

TEST(RoundRefusals, AHoleDrilledAcrossBelowTheFaceIsSeen) {
    // Along y at x = 0, its axis 5 off the shaft's: it opens at the ends only, 2 mm under the surface at the top.
    const TopoDS_Shape across = BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(0, 5, 0), gp::DZ()), 3, 60).Shape();
    const part::PartPtr rod =
        part_of(solid_of(BRepAlgoAPI_Cut(BRepPrimAPI_MakeCylinder(10, 60).Shape(), across).Shape()));
    auto mark = on_round(*rod, lettering(4, 8, 4), Mode::engrave, 1.5, 10);
    EXPECT_EQ(code_of(rod, mark), ""); // it faces −Y, the hole is on the other side
    mark.outline = moved(mark.outline, {10 * pi, 0});
    EXPECT_EQ(code_of(rod, mark), ""); // 0.5 left
    mark.depth = Mm(1.97);
    EXPECT_EQ(code_of(rod, mark), "imprint.pokes_through");
}

TEST(RoundRoutes, CutsOverTheEdgeOfAShaftAndSaysWhenTheDirectRouteIsNoChoice) {
    const part::PartPtr rod = part_of(BRepPrimAPI_MakeCylinder(15, 40).Shape());
    // Half of the block lies beyond the end of the shaft.
    auto mark = on_round(*rod, {{{rectangle({-3, 16}, {3, 24}), {}}}}, Mode::engrave, 0.5);
    imprint::Options options;
    options.route = imprint::RouteChoice::direct;
    EXPECT_EQ(code_of(rod, mark, options), "imprint.route");
    expect_good(rod, mark, on_cylinder(mark, 15, 1) / 2, imprint::Route::general);
    mark.outline = {{{rectangle({-3, -4}, {3, 4}), {}}}};
    options.route = imprint::RouteChoice::general;
    const auto general = imprint::imprint(rod, std::span(&mark, 1), options, Progress());
    ASSERT_TRUE(general);
    EXPECT_EQ(general->marks[0].route, imprint::Route::general);
    EXPECT_NEAR(general->marks[0].volume_change_mm3 / on_cylinder(mark, 15, 1), 1, 1e-5);
}

TEST(RoundRelief, IsTheMarkOnTheSurface) {
    const part::PartPtr rod = part_of(BRepPrimAPI_MakeCylinder(15, 40).Shape());
    const auto mark = on_round(*rod, lettering(12, 60, 12), Mode::engrave, 0.5);
    const part::FaceMesh mesh = imprint::relief(mark);
    // Cap and floor: all three corners on one of the two cylinders. Their areas are A and A (R − d) / R.
    double cap = 0, floor = 0;
    for (const auto& triangle : mesh.triangles) {
        std::array<Vec3, 3> p;
        int on_surface = 0, on_floor = 0;
        for (std::size_t i = 0; i < 3; ++i) {
            const auto& q = mesh.points[triangle[i]];
            p[i] = {q[0], q[1], q[2]};
            const double r = std::hypot(q[0], q[1]);
            on_surface += std::abs(r - 15) < 1e-4 ? 1 : 0;
            on_floor += std::abs(r - 14.5) < 1e-4 ? 1 : 0;
        }
        EXPECT_EQ(on_surface + on_floor, 3);
        const double area = length(cross(p[1] - p[0], p[2] - p[0])) / 2;
        if (on_surface == 3) cap += area;
        if (on_floor == 3) floor += area;
    }
    const double area = gauss_area(mark.outline);
    EXPECT_NEAR(cap / area, 1, 2e-3); // chords within 0.01 mm
    EXPECT_NEAR(floor / (area * 14.5 / 15), 1, 2e-3);
}

} // namespace
} // namespace touchmark::test
