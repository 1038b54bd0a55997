// SPDX-License-Identifier: MIT

// Marks across the edges between faces of one surface: bodies put together by OpenCASCADE's boolean from halves, whose
// faces it leaves as they were. What a mark takes is known in closed form, or from the body in one piece.

#include "core/imprint/clearance.h"
#include "core/surface/unrolling.h"
#include "tests/core/imprint/round_trip.h"
#include "tests/core/imprint/shapes.h"
#include "tests/support/reader.h"
#include "tests/support/solid_check.h"

#include <BRepAdaptor_Curve.hxx>
#include <BRepAlgoAPI_Cut.hxx>
#include <BRepAlgoAPI_Fuse.hxx>
#include <BRepBuilderAPI_NurbsConvert.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeCone.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <STEPControl_Writer.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
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

TopoDS_Shape fused(const TopoDS_Shape& a, const TopoDS_Shape& b) {
    return solid_of(BRepAlgoAPI_Fuse(a, b).Shape());
}

const gp_Ax2 tilted(gp_Pnt(4, 7, -3), gp_Dir(0.1, 0.2, 0.9));
const gp_Ax2 turned = tilted.Rotated(tilted.Axis(), pi);

TopoDS_Shape halves_of_cylinder() {
    return fused(BRepPrimAPI_MakeCylinder(tilted, 12, 30, pi).Shape(),
                 BRepPrimAPI_MakeCylinder(turned, 12, 30, pi).Shape());
}

struct Body {
    const char* name;
    TopoDS_Shape shape;
    part::FaceKind kind;
    int faces; ///< of the one surface
};

std::vector<Body> bodies() {
    const TopoDS_Shape block = BRepPrimAPI_MakeBox(gp_Pnt(-20, -20, 0), 40, 40, 30).Shape();
    const gp_Ax2 one(gp_Pnt(0, 0, -1), gp::DZ()), other = one.Rotated(one.Axis(), pi);
    const TopoDS_Shape bored =
        solid_of(BRepAlgoAPI_Cut(BRepAlgoAPI_Cut(block, BRepPrimAPI_MakeCylinder(one, 12, 32, pi).Shape()).Shape(),
                                 BRepPrimAPI_MakeCylinder(other, 12, 32, pi).Shape())
                     .Shape());
    const auto box = [](double x, double y) { return BRepPrimAPI_MakeBox(gp_Pnt(x, y, 0), 20, 20, 8).Shape(); };
    return {{"halves", halves_of_cylinder(), part::FaceKind::cylinder, 2},
            {"splines", solid_of(BRepBuilderAPI_NurbsConvert(halves_of_cylinder(), Standard_True).Shape()),
             part::FaceKind::cylinder, 2},
            {"bore", bored, part::FaceKind::cylinder, 2},
            {"cone",
             fused(BRepPrimAPI_MakeCone(tilted, 16, 9, 25, pi).Shape(),
                   BRepPrimAPI_MakeCone(turned, 16, 9, 25, pi).Shape()),
             part::FaceKind::cone, 2},
            {"stacked",
             fused(BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(0, 0, 0), gp::DZ()), 12, 15).Shape(),
                   BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(0, 0, 15), gp::DZ()), 12, 15).Shape()),
             part::FaceKind::cylinder, 2},
            {"two boxes", fused(box(-20, 0), box(0, 0)), part::FaceKind::plane, 2},
            {"four boxes", fused(fused(box(-20, 0), box(0, 0)), fused(box(-20, -20), box(0, -20))),
             part::FaceKind::plane, 4}};
}

/// The face with the most others, and where in its map the middle of all of them is.
struct Found {
    surface::FaceMapPtr map;
    Vec2 middle;
};

Found found(const part::Part& part, const Body& body) {
    for (const part::Face& face : part.faces()) {
        if (face.kind != body.kind || (body.kind == part::FaceKind::plane && face.frame.z.z < 0.9)) continue;
        const surface::FaceMapPtr map = surface::map_face(part, face.index).value();
        if (static_cast<int>(map->faces().size()) != body.faces) continue;
        if (!map->unrolling()) return {map, map->locate({0.3, body.faces == 4 ? -0.2 : 10.4, 8})};
        if (std::string_view(body.name) == "stacked") return {map, map->locate({0.3, -12, 15.2})};
        // The edge between the halves is a quarter of a turn from the middle of either.
        const surface::Unrolling& round = *map->unrolling();
        return {map, round.at({round.centre.x + pi / 2 + 0.03, round.centre.y})};
    }
    throw std::runtime_error(std::string("no such faces: ") + body.name);
}

/// Without corners or sides on the edges below.
geometry::Outline sign(Vec2 at) {
    return moved(lettering(3, 9, 5), at, 7);
}

double expected(const imprint::Footprint& mark) {
    const double depth = mark.depth.value, cover = mark.mode == Mode::hidden ? mark.cover.value : 0;
    const double low = mark.mode == Mode::raise ? 0 : -cover - depth, high = mark.mode == Mode::raise ? depth : -cover;
    // Between parallel surfaces of a cylinder of radius R: A (b - a) (1 + (a + b) / 2R).
    double volume = gauss_area(mark.outline) * (high - low) * (mark.mode == Mode::raise ? 1 : -1);
    if (const auto* round = mark.map->unrolling()) volume *= 1 + (low + high) * round->outward / (2 * round->radius);
    return volume;
}

TEST(Joined, TheMapRunsOverAllFacesOfTheSurface) {
    for (const Body& body : bodies()) {
        const part::PartPtr part = part_of(body.shape);
        const Found at = found(*part, body);
        double area = 0;
        for (const int face : at.map->faces())
            area += part->faces()[static_cast<std::size_t>(face)].area_mm2;
        const surface::Unrolling* round = at.map->unrolling();
        if (!round || !round->closed) {
            EXPECT_NEAR(gauss_area(at.map->room()) / area, 1, 1e-3) << body.name;
        }
        EXPECT_EQ(round != nullptr && round->closed, body.kind != part::FaceKind::plane) << body.name;
        // Edges between the faces are no edges of the room.
        const auto far = surface::margin(*at.map, sign(at.middle));
        EXPECT_GT(far.distance, 1) << body.name;
    }
}

TEST(Joined, EveryModeIsMadeDirectlyAcrossTheEdge) {
    for (const Body& body : bodies()) {
        const part::PartPtr part = part_of(body.shape);
        const Found at = found(*part, body);
        for (const Mode mode : {Mode::engrave, Mode::raise, Mode::hidden, Mode::inlay}) {
            const imprint::Footprint mark{"mark", at.map, sign(at.middle), mode, Mm(0.4), {}, Mm(0.3)};
            imprint::Options options;
            options.route = imprint::RouteChoice::direct;
            const auto made = imprint::imprint(part, std::span(&mark, 1), options, Progress());
            ASSERT_TRUE(made) << body.name << key_of(mode) << made.error().message;
            EXPECT_EQ(made->marks[0].route, imprint::Route::direct);
            const Difference is = difference(*part, *made->part, 0);
            EXPECT_TRUE(is.valid) << body.name << key_of(mode);
            EXPECT_TRUE(is.closed) << body.name << key_of(mode);
            EXPECT_EQ(is.more_shells, mode == Mode::hidden ? 3 : 0) << body.name << key_of(mode);
            const bool spline = std::string_view(body.name) == "splines";
            if (body.kind != part::FaceKind::cone) {
                EXPECT_NEAR(made->marks[0].volume_change_mm3 / expected(mark), 1, 1e-9) << body.name << key_of(mode);
            }
            // OpenCASCADE integrates over what is left of a spline to some 1e-6 of that.
            EXPECT_NEAR(is.volume / made->marks[0].volume_change_mm3, 1, spline ? 2e-4 : 1e-6)
                << body.name << key_of(mode);
        }
    }
}

TEST(Joined, TheGeneralRouteAgrees) {
    for (const Body& body : {bodies()[0], bodies()[3], bodies()[5]}) {
        const part::PartPtr part = part_of(body.shape);
        const Found at = found(*part, body);
        imprint::Footprint mark{"mark",        at.map,  moved(letter(2), at.middle - Vec2{0.3, 0.5}),
                                Mode::engrave, Mm(0.4), {}};
        imprint::Options options;
        double volume = 0;
        for (const auto route : {imprint::RouteChoice::direct, imprint::RouteChoice::general}) {
            options.route = route;
            const auto made = imprint::imprint(part, std::span(&mark, 1), options, Progress());
            ASSERT_TRUE(made) << body.name << made.error().message;
            if (route == imprint::RouteChoice::general) {
                EXPECT_NEAR(made->marks[0].volume_change_mm3 / volume, 1, 1e-5) << body.name;
            }
            volume = made->marks[0].volume_change_mm3;
            const Difference is = difference(*part, *made->part, 0);
            EXPECT_TRUE(is.valid && is.closed) << body.name;
        }
    }
}

TEST(Joined, TheSolidComesBackFromAFile) {
    for (const Body& body : bodies()) {
        const part::PartPtr part = part_of(body.shape);
        const Found at = found(*part, body);
        const imprint::Footprint mark{"mark", at.map, sign(at.middle), Mode::engrave, Mm(0.4), {}};
        const auto made = imprint::imprint(part, std::span(&mark, 1), {}, Progress());
        ASSERT_TRUE(made) << body.name << made.error().message;
        const TopoDS_Shape& shape = part::occurrence(*made->part, 0).shape;
        STEPControl_Writer writer;
        const auto file = std::filesystem::temp_directory_path() / ("joined_" + std::to_string(getpid()) + ".step");
        ASSERT_EQ(writer.Transfer(shape, STEPControl_AsIs), IFSelect_RetDone);
        ASSERT_EQ(writer.Write(file.c_str()), IFSelect_RetDone);
        const SolidFigures read = read_bare(file);
        const part::PartPtr back = read_part(file);
        std::filesystem::remove(file);
        EXPECT_TRUE(read.valid && read.closed) << body.name;
        EXPECT_EQ(read.solids, 1) << body.name;
        EXPECT_NEAR(back->volume_mm3(), made->part->volume_mm3(), 1e-7 * back->volume_mm3()) << body.name;
    }
}

TEST(Joined, AFlatFloorGoesOnUnderTheEdge) {
    const Body body = bodies()[0];
    const part::PartPtr part = part_of(body.shape);
    const Found at = found(*part, body);
    imprint::Footprint mark{"mark", at.map, moved(lettering(2, 5, 3), at.middle, 7), Mode::engrave, Mm(0.4), {}};
    mark.floor = Floor::flat;
    mark.anchor = at.middle;
    const auto made = imprint::imprint(part, std::span(&mark, 1), {}, Progress());
    ASSERT_TRUE(made) << made.error().message;
    EXPECT_EQ(made->marks[0].route, imprint::Route::direct);
    const Difference is = difference(*part, *made->part, 0);
    EXPECT_TRUE(is.valid && is.closed);
    EXPECT_NEAR(is.volume / made->marks[0].volume_change_mm3, 1, 1e-6);
}

TEST(Joined, ASecondMarkFindsWhatTheFirstLeft) {
    for (const Body& body : {bodies()[0], bodies()[6]}) {
        const part::PartPtr part = part_of(body.shape);
        const Found at = found(*part, body);
        const std::array marks{
            imprint::Footprint{"ring", at.map, moved({{ring({0, 0}, 6, 5)}}, at.middle), Mode::engrave, Mm(0.3), {}},
            imprint::Footprint{"within", at.map, moved(lettering(2, 5, 3), at.middle, 7), Mode::raise, Mm(0.4), {}}};
        const auto made = imprint::imprint(part, marks, {}, Progress());
        ASSERT_TRUE(made) << body.name << made.error().message;
        for (const imprint::MarkResult& mark : made->marks)
            EXPECT_EQ(mark.route, imprint::Route::direct) << body.name;
        const Difference is = difference(*part, *made->part, 0);
        EXPECT_TRUE(is.valid && is.closed) << body.name;
        EXPECT_NEAR(is.volume / (expected(marks[0]) + expected(marks[1])), 1, 1e-6) << body.name;
    }
}

TEST(Joined, MarksLaidFromEitherFaceAreKnownToMeet) {
    const Body body = bodies()[0];
    const part::PartPtr part = part_of(body.shape);
    const Found at = found(*part, body);
    const surface::FaceMapPtr other = surface::map_face(*part, at.map->faces()[1]).value();
    const Vec3 place = at.map->point(at.middle);
    for (const double away : {0.0, 12.0}) {
        const std::array marks{
            imprint::Footprint{"a", at.map, sign(at.middle), Mode::engrave, Mm(0.3), {}},
            imprint::Footprint{"b", other, sign(other->locate(place) + Vec2{0, away}), Mode::engrave, Mm(0.3), {}}};
        const auto made = imprint::imprint(part, marks, {}, Progress());
        if (away > 0) {
            EXPECT_TRUE(made) << made.error().message;
        } else {
            ASSERT_FALSE(made);
            EXPECT_EQ(made.error().code, "imprint.overlap");
        }
    }
}

TEST(Joined, TheOtherHalfIsNoWallBehindTheMark) {
    const Body body = bodies()[0];
    const part::PartPtr part = part_of(body.shape);
    const Found at = found(*part, body);
    const auto obstacles = imprint::Obstacles::of(*part, {}, Progress()).value();
    const imprint::Footprint mark{"mark", at.map, sign(at.middle), Mode::engrave, Mm(0.4), {}};
    const auto wall = obstacles->wall_behind(mark);
    ASSERT_TRUE(wall); // the far side of the cylinder
    EXPECT_NEAR(wall->thickness, 24 - 0.4, 0.05);
    EXPECT_FALSE(obstacles->room_above(mark));
}

TEST(Joined, ACornerThatCrossesTheEdgeIsMadeDirectly) {
    const Body body = bodies()[5];
    const part::PartPtr part = part_of(body.shape);
    const Found at = found(*part, body);
    const Vec2 o = at.map->locate({0, 10, 8});
    // A square on its tip: two of its corners lie on the edge.
    geometry::Contour square;
    const std::array corners{o + Vec2{0, -2}, o + Vec2{2, 0}, o + Vec2{0, 2}, o + Vec2{-2, 0}};
    for (std::size_t i = 0; i < corners.size(); ++i)
        square.segments.push_back(geometry::Segment::line(corners[i], corners[(i + 1) % 4]));
    const imprint::Footprint mark{"mark", at.map, {{{square, {}}}}, Mode::engrave, Mm(0.4), {}};
    const auto made = imprint::imprint(part, std::span(&mark, 1), {}, Progress());
    ASSERT_TRUE(made) << made.error().message;
    EXPECT_EQ(made->marks[0].route, imprint::Route::direct);
    EXPECT_EQ(made->marks[0].faces_added, 5); // four walls, no more: nothing was split
    const Difference is = difference(*part, *made->part, 0);
    EXPECT_TRUE(is.valid && is.closed);
    EXPECT_NEAR(is.volume, -8 * 0.4, 1e-6);
}

/// Middles of the edges that a face shares with the others of its surface.
std::vector<Vec3> joints_of(const part::Part& part, const surface::FaceMap& map) {
    std::vector<Vec3> middles;
    const gp_Trsf placing =
        part::occurrence(part, part.faces()[static_cast<std::size_t>(map.face())].body).location.Transformation();
    for (const int other : map.faces())
        for (TopExp_Explorer a(part::face_shape(part, map.face()), TopAbs_EDGE); a.More(); a.Next())
            for (TopExp_Explorer b(part::face_shape(part, other), TopAbs_EDGE); b.More() && other != map.face();
                 b.Next())
                if (a.Current().IsSame(b.Current())) {
                    const BRepAdaptor_Curve curve(TopoDS::Edge(a.Current()));
                    const gp_Pnt p =
                        curve.Value((curve.FirstParameter() + curve.LastParameter()) / 2).Transformed(placing);
                    middles.push_back({p.X(), p.Y(), p.Z()});
                }
    return middles;
}

TEST(Joined, RealPartsTakeMarksAcrossEdgesWithinASurface) {
    int surfaces = 0, direct = 0, other = 0, refused = 0;
    for (const char* file : {"as1-oc-214.stp", "as1_pe_203.stp", "component8.step", "dm1-id-214.stp", "frame.step",
                             "io1-cm-214.stp", "io1-tu-203.stp", "screw.step", "sg1-c5-214.stp", "bottle.brep"}) {
        const part::PartPtr part = open_any(file);
        int tried = 0;
        for (const part::Face& face : part->faces()) {
            if (face.kind > part::FaceKind::cone || face.area_mm2 < 60 ||
                !part->bodies()[static_cast<std::size_t>(face.body)].solid)
                continue;
            const auto map = surface::map_face(*part, face.index);
            if (!map || (*map)->faces().size() < 2) continue;
            ++surfaces;
            if (tried == 2) continue;
            for (const Vec3& middle : joints_of(*part, **map)) {
                const geometry::Outline outline = moved(lettering(2, 3, 1.6), (*map)->locate(middle), 5);
                if (surface::margin(**map, outline).distance < 0.2) continue;
                const imprint::Footprint mark{"mark", *map, outline, Mode::engrave, Mm(0.2), {}};
                const auto made = imprint::imprint(part, std::span(&mark, 1), {}, Progress());
                if (!made) {
                    EXPECT_NE(made.error().code, "imprint.failed") << file << face.index << made.error().message;
                    ++refused;
                    continue;
                }
                ++tried;
                (made->marks[0].route == imprint::Route::direct ? direct : other) += 1;
                const Difference is = difference(*part, *made->part, face.body);
                EXPECT_TRUE(is.valid && is.closed) << file << face.index;
                const bool spline = (*map)->unrolling() && (*map)->unrolling()->recognised;
                EXPECT_NEAR(is.volume / made->marks[0].volume_change_mm3, 1, spline ? 1e-3 : 1e-5)
                    << file << face.index;
                break;
            }
        }
    }
    RecordProperty("surfaces", surfaces);
    RecordProperty("direct", direct);
    RecordProperty("other", other);
    RecordProperty("refused", refused);
    EXPECT_GT(direct, 5);
}

TEST(Joined, RandomMarksAreSoundOrRefusedPlainly) {
    const int count = long_run() ? 2000 : 28;
    std::mt19937 random(20240517);
    const auto between = [&](double low, double high) { return std::uniform_real_distribution(low, high)(random); };
    const std::vector<Body> all = bodies();
    std::vector<part::PartPtr> parts;
    for (const Body& body : all)
        parts.push_back(part_of(body.shape));
    int direct = 0;
    for (int i = 0; i < count; ++i) {
        const std::size_t which = static_cast<std::size_t>(i) % all.size();
        const Found at = found(*parts[which], all[which]);
        const Mode mode = std::array{Mode::engrave, Mode::raise, Mode::hidden, Mode::inlay}[random() % 4];
        const geometry::Outline outline =
            moved(lettering(1 + static_cast<int>(random() % 6), between(2, 14), between(2, 9)),
                  at.middle + Vec2{between(-5, 5), between(-5, 5)}, i % 3 == 0 ? 0 : between(0, 360));
        const imprint::Footprint mark{"mark", at.map, outline, mode, Mm(between(0.1, 1)), {}, Mm(0.3)};
        const auto made = imprint::imprint(parts[which], std::span(&mark, 1), {}, Progress());
        const std::string what = std::string(all[which].name) + " " + std::to_string(i);
        if (!made) {
            EXPECT_NE(made.error().code, "imprint.failed") << what << made.error().message;
            continue;
        }
        direct += made->marks[0].route == imprint::Route::direct;
        const Difference is = difference(*parts[which], *made->part, 0);
        EXPECT_TRUE(is.valid && is.closed) << what;
        const double tolerance = made->marks[0].route != imprint::Route::direct ? 1e-5 : 1e-6;
        EXPECT_NEAR(is.volume / made->marks[0].volume_change_mm3, 1, which == 1 ? 1e-3 : tolerance) << what;
    }
    EXPECT_GT(direct, count * 3 / 4);
    RecordProperty("direct", direct);
}

TEST(Joined, ASideAlongTheEdgeIsLeftToTheGeneralRoute) {
    const Body body = bodies()[5];
    const part::PartPtr part = part_of(body.shape);
    const Found at = found(*part, body);
    const Vec2 on_edge = at.map->locate({0, 10, 8});
    const geometry::Outline box{{{rectangle(on_edge - Vec2{0, 1}, on_edge + Vec2{3, 2}), {}}}}; // a side along it
    const imprint::Footprint mark{"mark", at.map, box, Mode::engrave, Mm(0.4), {}};
    const auto made = imprint::imprint(part, std::span(&mark, 1), {}, Progress());
    ASSERT_TRUE(made) << made.error().message;
    EXPECT_EQ(made->marks[0].route, imprint::Route::general);
    const Difference is = difference(*part, *made->part, 0);
    EXPECT_TRUE(is.valid && is.closed);
    EXPECT_NEAR(is.volume, -9 * 0.4, 1e-5);
}

} // namespace
} // namespace touchmark::test
