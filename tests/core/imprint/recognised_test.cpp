// SPDX-License-Identifier: MIT

// Marks on cylinders and cones that the part stores as B-splines (BRepBuilderAPI_NurbsConvert): what the same marks do
// on the same body stored as what it is.

#include "core/surface/unrolling.h"
#include "tests/core/imprint/pocket.h"
#include "tests/core/imprint/shapes.h"
#include "tests/support/reader.h"
#include "tests/support/solid_check.h"

#include <BRepAdaptor_Surface.hxx>
#include <BRepAlgoAPI_Cut.hxx>
#include <BRepBuilderAPI_NurbsConvert.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeCone.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRep_Tool.hxx>
#include <STEPControl_Writer.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <gtest/gtest.h>

#include <filesystem>
#include <numbers>

namespace touchmark::test {
namespace {

constexpr double pi = std::numbers::pi;

TopoDS_Shape solid_of(const TopoDS_Shape& shape) {
    return TopExp_Explorer(shape, TopAbs_SOLID).Current();
}

TopoDS_Shape splined(const TopoDS_Shape& shape) {
    return solid_of(BRepBuilderAPI_NurbsConvert(shape, Standard_True).Shape());
}

struct Body {
    const char* name;
    TopoDS_Shape shape;
};

const gp_Ax2 tilted(gp_Pnt(4, 7, -3), gp_Dir(0.1, 0.2, 0.9));

std::vector<Body> bodies() {
    return {{"shaft", BRepPrimAPI_MakeCylinder(tilted, 12, 30).Shape()},
            {"half", BRepPrimAPI_MakeCylinder(tilted, 12, 30, pi).Shape()},
            {"bore",
             solid_of(BRepAlgoAPI_Cut(BRepPrimAPI_MakeBox(40, 40, 30).Shape(),
                                      BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(20, 20, -1), gp::DZ()), 12, 32).Shape())
                          .Shape())},
            {"cone", BRepPrimAPI_MakeCone(tilted, 16, 9, 25).Shape()},
            {"slice", BRepPrimAPI_MakeCone(tilted, 9, 16, 25, 2.5).Shape()}};
}

surface::FaceMapPtr round_map(const part::Part& part) {
    for (const part::Face& face : part.faces())
        if (face.kind == part::FaceKind::cylinder || face.kind == part::FaceKind::cone)
            return surface::map_face(part, face.index).value();
    throw std::runtime_error("no round face");
}

imprint::Footprint mark_on(const surface::FaceMapPtr& map, Mode mode, Vec2 at = {}) {
    geometry::Outline outline = lettering(3, 7, 4);
    if (mode == Mode::through) outline = without_counters(outline);
    return {"mark", map, moved(outline, at), mode, Mm(0.4), {}, Mm(0.3)};
}

TEST(Recognised, TheMapIsThatOfTheSameBodyStoredAsWhatItIs) {
    for (const Body& body : bodies()) {
        const part::PartPtr plain = part_of(body.shape), stored = part_of(splined(body.shape));
        const surface::FaceMapPtr a = round_map(*plain), b = round_map(*stored);
        EXPECT_EQ(a->kind(), b->kind()) << body.name;
        EXPECT_FALSE(a->unrolling()->recognised);
        EXPECT_TRUE(b->unrolling()->recognised);
        EXPECT_EQ(a->unrolling()->closed, b->unrolling()->closed) << body.name;
        EXPECT_NEAR(a->rectangle().x, b->rectangle().x, 2e-3) << body.name;
        EXPECT_NEAR(a->rectangle().y, b->rectangle().y, 2e-3) << body.name;
        EXPECT_NEAR(gauss_area(a->room()) / gauss_area(b->room()), 1, 1e-4) << body.name;
        for (const Vec2 at : {Vec2{0, 0}, Vec2{3, 1}, Vec2{-4, 2.5}}) {
            EXPECT_LT(distance(a->point(at), b->point(at)), 2e-3) << body.name;
            EXPECT_LT(distance(a->normal(at), b->normal(at)), 1e-3) << body.name;
            EXPECT_LT(distance(b->locate(b->point(at)), at), 1e-9) << body.name;
        }
    }
}

TEST(Recognised, EveryModeIsMadeDirectlyAndTakesWhatItTakesOfThePlainBody) {
    for (const Body& body : bodies()) {
        const part::PartPtr plain = part_of(body.shape), stored = part_of(splined(body.shape));
        const surface::FaceMapPtr on_plain = round_map(*plain), on_stored = round_map(*stored);
        for (const Mode mode : {Mode::engrave, Mode::raise, Mode::hidden, Mode::inlay}) {
            const imprint::Footprint a = mark_on(on_plain, mode), b = mark_on(on_stored, mode);
            const auto wanted = imprint::imprint(plain, std::span(&a, 1), {}, Progress());
            const auto made = imprint::imprint(stored, std::span(&b, 1), {}, Progress());
            ASSERT_TRUE(wanted) << body.name << key_of(mode) << wanted.error().message;
            ASSERT_TRUE(made) << body.name << key_of(mode) << made.error().message;
            EXPECT_EQ(made->marks[0].route, imprint::Route::direct);
            const double expected = wanted->marks[0].volume_change_mm3;
            EXPECT_NEAR(made->marks[0].volume_change_mm3 / expected, 1, 1e-7) << body.name << key_of(mode);
            const Difference is = difference(*stored, *made->part, 0);
            EXPECT_TRUE(is.valid && is.closed) << body.name << key_of(mode);
            const double measured = mode == Mode::hidden ? is.volume : pocket_volume(*made->part, 0);
            EXPECT_NEAR(measured / expected, 1, 1e-6) << body.name << key_of(mode);
        }
    }
}

TEST(Recognised, TheFaceKeepsItsSurfaceAndItsNeighboursStayAsTheyAre) {
    const part::PartPtr stored = part_of(splined(bodies()[0].shape));
    const imprint::Footprint mark = mark_on(round_map(*stored), Mode::engrave);
    const auto made = imprint::imprint(stored, std::span(&mark, 1), {}, Progress());
    ASSERT_TRUE(made) << made.error().message;
    int same = 0, on_surface = 0;
    TopLoc_Location location;
    const auto surface = BRep_Tool::Surface(part::face_shape(*stored, mark.map->face()), location);
    for (const part::Face& face : made->part->faces()) {
        const TopoDS_Face& shape = part::face_shape(*made->part, face.index);
        for (const part::Face& before : stored->faces())
            same += shape.IsSame(part::face_shape(*stored, before.index));
        on_surface += BRep_Tool::Surface(shape, location) == surface;
    }
    EXPECT_EQ(same, static_cast<int>(stored->faces().size()) - 1);
    EXPECT_GT(on_surface, 1); // the host and what is left in the counters
}

/// Where the seam is, the stored surface says.
Vec3 middle_of_seam(const TopoDS_Face& face) {
    for (TopExp_Explorer item(face, TopAbs_EDGE); item.More(); item.Next()) {
        const TopoDS_Edge& edge = TopoDS::Edge(item.Current());
        if (!BRep_Tool::IsClosed(edge, face)) continue;
        double first = 0, last = 0;
        const Handle(Geom_Curve) curve = BRep_Tool::Curve(edge, first, last);
        const gp_Pnt p = curve->Value((first + last) / 2);
        return {p.X(), p.Y(), p.Z()};
    }
    throw std::runtime_error("no seam");
}

TEST(Recognised, AMarkRunsAcrossTheSeamOfTheSpline) {
    for (const Body& body : bodies()) {
        const part::PartPtr plain = part_of(body.shape), stored = part_of(splined(body.shape));
        const surface::FaceMapPtr on_plain = round_map(*plain), on_stored = round_map(*stored);
        if (!on_stored->unrolling()->closed) continue;
        const Vec3 seam = middle_of_seam(part::face_shape(*stored, on_stored->face()));
        for (const Mode mode : {Mode::engrave, Mode::raise, Mode::hidden}) {
            imprint::Footprint a = mark_on(on_plain, mode, on_plain->locate(seam) + Vec2{0.31, 0.17});
            imprint::Footprint b = mark_on(on_stored, mode, on_stored->locate(seam) + Vec2{0.31, 0.17});
            a.outline = without_counters(a.outline);
            b.outline = without_counters(b.outline);
            const auto wanted = imprint::imprint(plain, std::span(&a, 1), {}, Progress());
            const auto made = imprint::imprint(stored, std::span(&b, 1), {}, Progress());
            ASSERT_TRUE(wanted) << body.name << key_of(mode) << wanted.error().message;
            ASSERT_TRUE(made) << body.name << key_of(mode) << made.error().message;
            EXPECT_EQ(made->marks[0].route, imprint::Route::direct) << body.name << key_of(mode);
            const Difference is = difference(*stored, *made->part, 0);
            EXPECT_TRUE(is.valid && is.closed) << body.name << key_of(mode);
            EXPECT_EQ(is.more_shells, mode == Mode::hidden ? 3 : 0);
            // The host joins the mark's faces within the tolerance of its edges, as is checked; what these enclose with
            // it is the same as on the plain body when they are.
            const double expected = volume_over_mark(*wanted->part, 0, seam);
            EXPECT_NEAR(volume_over_mark(*made->part, 0, seam), expected, 1e-6 * std::abs(expected))
                << body.name << key_of(mode);
            EXPECT_NEAR(made->marks[0].volume_change_mm3 / wanted->marks[0].volume_change_mm3, 1, 1e-7) << body.name;
        }
    }
}

TEST(Recognised, ALetterWhoseCounterLiesAcrossTheSeamIsMadeByTheGeneralRoute) {
    const part::PartPtr stored = part_of(splined(bodies()[0].shape));
    const surface::FaceMapPtr map = round_map(*stored);
    const Vec3 seam = middle_of_seam(part::face_shape(*stored, map->face()));
    imprint::Footprint mark = mark_on(map, Mode::engrave);
    mark.outline = moved({{ring({0, 0}, 2, 1.2), ring({5, 0}, 2, 1.2)}}, map->locate(seam) + Vec2{0.2, 0});
    const auto made = imprint::imprint(stored, std::span(&mark, 1), {}, Progress());
    ASSERT_TRUE(made) << made.error().message;
    EXPECT_EQ(made->marks[0].route, imprint::Route::mixed); // the ring beside it directly
    const Difference is = difference(*stored, *made->part, 0);
    EXPECT_TRUE(is.valid && is.closed);
    // Between the cylinders of radius R and R - d: the unrolled area times d (1 - d / 2R).
    const double expected = -gauss_area(mark.outline) * 0.4 * (1 - 0.4 / 24);
    EXPECT_NEAR(made->marks[0].volume_change_mm3 / expected, 1, 1e-5);
}

TEST(Recognised, AFlatFloorAndTheGeneralRouteWorkToo) {
    for (const Body& body : {bodies()[1], bodies()[4]}) {
        const part::PartPtr stored = part_of(splined(body.shape));
        imprint::Footprint mark = mark_on(round_map(*stored), Mode::engrave);
        mark.outline = lettering(1, 2, 3);
        for (const Floor floor : {Floor::offset, Floor::flat})
            for (const auto route : {imprint::RouteChoice::direct, imprint::RouteChoice::general}) {
                mark.floor = floor;
                imprint::Options options;
                options.route = route;
                const auto made = imprint::imprint(stored, std::span(&mark, 1), options, Progress());
                ASSERT_TRUE(made) << body.name << made.error().message;
                const Difference is = difference(*stored, *made->part, 0);
                EXPECT_TRUE(is.valid && is.closed) << body.name;
                EXPECT_NEAR(pocket_volume(*made->part, 0) / made->marks[0].volume_change_mm3, 1,
                            route == imprint::RouteChoice::direct ? 1e-6 : 1e-5)
                    << body.name;
            }
    }
}

TEST(Recognised, AnotherReaderFindsTheSameSolid) {
    for (const Body& body : {bodies()[0], bodies()[3]}) {
        const part::PartPtr stored = part_of(splined(body.shape));
        const imprint::Footprint mark = mark_on(round_map(*stored), Mode::engrave);
        const auto made = imprint::imprint(stored, std::span(&mark, 1), {}, Progress());
        ASSERT_TRUE(made) << made.error().message;
        const TopoDS_Shape& shape = part::occurrence(*made->part, 0).shape;
        STEPControl_Writer writer;
        const auto file = std::filesystem::temp_directory_path() / ("recognised_" + std::to_string(getpid()) + ".step");
        ASSERT_EQ(writer.Transfer(shape, STEPControl_AsIs), IFSelect_RetDone);
        ASSERT_EQ(writer.Write(file.c_str()), IFSelect_RetDone);
        const SolidFigures read = read_bare(file), kept = figures_of(shape);
        const part::PartPtr back = read_part(file);
        std::filesystem::remove(file);
        EXPECT_TRUE(read.valid && read.closed) << body.name;
        EXPECT_EQ(read.faces, kept.faces) << body.name;
        EXPECT_NEAR(back->volume_mm3(), made->part->volume_mm3(), 1e-7 * back->volume_mm3()) << body.name;
    }
}

} // namespace
} // namespace touchmark::test
