// SPDX-License-Identifier: MIT

// Hidden voids, inlays and openings.

#include "tests/core/imprint/shapes.h"
#include "tests/support/solid_check.h"

#include <BRepAlgoAPI_Cut.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakePolygon.hxx>
#include <BRepGProp.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRepPrimAPI_MakePrism.hxx>
#include <GProp_GProps.hxx>
#include <STEPControl_Writer.hxx>
#include <TopExp_Explorer.hxx>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>
#include <numbers>

namespace touchmark::test {
namespace {

TopoDS_Shape solid_of(const TopoDS_Shape& shape) {
    return TopExp_Explorer(shape, TopAbs_SOLID).Current();
}

imprint::Footprint on_top(const part::Part& part, geometry::Outline outline, Mode mode, double depth = 0.5) {
    auto map = surface::map_face(part, farthest_flat_face(part, {0, 0, 1}));
    if (!map) throw std::runtime_error(map.error().message);
    return {"mark", *map, std::move(outline), mode, Mm(depth), {}};
}

imprint::Footprint on_cylinder(const part::Part& part, geometry::Outline outline, Mode mode, double radius) {
    for (const part::Face& face : part.faces())
        if (face.kind == part::FaceKind::cylinder && std::abs(face.radius_mm - radius) < 1e-9)
            return {"mark", *surface::map_face(part, face.index), std::move(outline), mode, Mm(0.5), {}};
    throw std::runtime_error("no such cylinder");
}

Result<imprint::Imprinted> put(const part::PartPtr& part, const imprint::Footprint& mark,
                               imprint::RouteChoice route = imprint::RouteChoice::automatic) {
    imprint::Options options;
    options.route = route;
    return imprint::imprint(part, std::span(&mark, 1), options, Progress());
}

std::string code_of(const Result<imprint::Imprinted>& made) {
    return made ? "" : made.error().code;
}

double volume(const TopoDS_Shape& shape) {
    GProp_GProps properties;
    BRepGProp::VolumeProperties(shape, properties);
    return properties.Mass();
}

SolidFigures written_and_read(const part::Part& part) {
    STEPControl_Writer writer;
    const auto file = std::filesystem::temp_directory_path() / ("modes_" + std::to_string(getpid()) + ".step");
    for (std::size_t i = 0; i < part.bodies().size(); ++i)
        writer.Transfer(part::occurrence(part, static_cast<int>(i)).shape, STEPControl_AsIs);
    writer.Write(file.c_str());
    const SolidFigures read = read_bare(file);
    std::filesystem::remove(file);
    return read;
}

struct Expected {
    double volume = 0; ///< removed
    int more_shells = 0;
    imprint::Route route = imprint::Route::direct;
};

void expect(const part::PartPtr& part, const Result<imprint::Imprinted>& made, const Expected& expected) {
    ASSERT_TRUE(made) << made.error().message;
    EXPECT_EQ(made->marks[0].route, expected.route);
    const bool direct = expected.route == imprint::Route::direct;
    EXPECT_NEAR(made->marks[0].volume_change_mm3 / -expected.volume, 1, direct ? 1e-9 : 1e-5);
    const Difference is = difference(*part, *made->part, 0);
    EXPECT_NEAR(is.volume / -expected.volume, 1, direct ? 1e-6 : 1e-5);
    EXPECT_TRUE(is.valid);
    EXPECT_TRUE(is.closed);
    EXPECT_EQ(is.more_solids, 0);
    EXPECT_EQ(is.more_shells, expected.more_shells);
    const SolidFigures read = written_and_read(*made->part);
    EXPECT_TRUE(read.valid);
    EXPECT_TRUE(read.closed);
    EXPECT_EQ(read.solids, static_cast<int>(made->part->bodies().size()));
}

constexpr std::array routes{imprint::RouteChoice::automatic, imprint::RouteChoice::general};

imprint::Route route_of(imprint::RouteChoice choice) {
    return choice == imprint::RouteChoice::general ? imprint::Route::general : imprint::Route::direct;
}

TEST(Hidden, LeavesClosedVoidsUnderTheFaceAndTheFaceAsItWas) {
    const part::PartPtr box = part_of(rounded_box(60, 40, 20, 2));
    for (const auto choice : routes) {
        imprint::Footprint mark = on_top(*box, lettering(choice == routes[0] ? 30 : 4, 54, 34), Mode::hidden, 0.6);
        mark.cover = Mm(0.42);
        const auto made = put(box, mark, choice);
        expect(box, made,
               {gauss_area(mark.outline) * 0.6, static_cast<int>(mark.outline.regions.size()), route_of(choice)});
        ASSERT_TRUE(made);
        const TopoDS_Shape& top = part::face_shape(*box, mark.map->face());
        bool still_there = false;
        for (TopExp_Explorer face(part::occurrence(*made->part, 0).shape, TopAbs_FACE); face.More(); face.Next())
            still_there = still_there || face.Current().IsSame(top);
        EXPECT_TRUE(still_there);
        // Nothing of the mark is nearer to the face than the cover, nor deeper than its floor.
        double nearest = 1e300, deepest = 0;
        for (const part::Face& face : made->part->faces())
            if (face.mark == "mark") {
                nearest = std::min(nearest, 20 - face.box.high.z);
                deepest = std::max(deepest, 20 - face.box.low.z);
            }
        EXPECT_NEAR(nearest, 0.42, 1e-6);
        EXPECT_NEAR(deepest, 1.02, 1e-6);
    }
}

TEST(Hidden, FollowsACylinder) {
    // Between the radii R − c and R − c − d: A / R times half the difference of their squares.
    const part::PartPtr tube = part_of(BRepPrimAPI_MakeCylinder(15, 40).Shape());
    for (const auto choice : routes) {
        imprint::Footprint mark = on_cylinder(*tube, lettering(6, 30, 8), Mode::hidden, 15);
        const double high = 15 - mark.cover.value, low = high - 0.5;
        expect(tube, put(tube, mark, choice),
               {gauss_area(mark.outline) / 15 * (high * high - low * low) / 2,
                static_cast<int>(mark.outline.regions.size()), route_of(choice)});
    }
}

TEST(Hidden, NeedsMaterialAllRound) {
    const part::PartPtr sheet = part_of(BRepPrimAPI_MakeBox(60, 40, 1.2).Shape());
    imprint::Footprint mark = on_top(*sheet, lettering(4, 20, 6), Mode::hidden, 0.6);
    mark.cover = Mm(0.42);
    EXPECT_EQ(code_of(put(sheet, mark)), "");
    mark.cover = Mm(0.58); // 0.02 mm would remain below
    EXPECT_EQ(code_of(put(sheet, mark)), "imprint.pokes_through");
    mark.cover = Mm(0.42);
    mark.outline = moved(mark.outline, {25, 0});
    EXPECT_EQ(code_of(put(sheet, mark)), "imprint.outside");
    mark.cover = Mm(0);
    EXPECT_EQ(code_of(put(sheet, mark)), "imprint.depth");
}

TEST(Hidden, NeedsMaterialAllRoundInARoundWallToo) {
    // The wall is 3 mm: 0.8 mm of cover and 2.19 mm of void leave 0.01 mm.
    const TopoDS_Shape bore = BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(0, 0, -1), gp::DZ()), 12, 50).Shape();
    const part::PartPtr tube =
        part_of(solid_of(BRepAlgoAPI_Cut(BRepPrimAPI_MakeCylinder(15, 40).Shape(), bore).Shape()));
    imprint::Footprint mark = on_cylinder(*tube, lettering(4, 20, 6), Mode::hidden, 15);
    mark.depth = Mm(1.5);
    EXPECT_EQ(code_of(put(tube, mark)), "");
    mark.depth = Mm(2.19);
    EXPECT_EQ(code_of(put(tube, mark)), "imprint.pokes_through");
    mark.depth = Mm(2.5); // its floor would be in the bore
    EXPECT_EQ(code_of(put(tube, mark)), "imprint.pokes_through");
}

TEST(Hidden, DoesNotRunIntoAHoleDrilledInFromTheSide) {
    const TopoDS_Shape bore = BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(0, -1, 18.8), gp::DY()), 0.4, 60).Shape();
    const part::PartPtr box =
        part_of(solid_of(BRepAlgoAPI_Cut(BRepPrimAPI_MakeBox(gp_Pnt(-30, -20, 0), 60, 40, 20).Shape(), bore).Shape()));
    imprint::Footprint mark = on_top(*box, {{{rectangle({-3, -3}, {3, 3}), {}}}}, Mode::hidden, 0.5);
    EXPECT_EQ(code_of(put(box, mark)), "imprint.pokes_through");
    mark.outline = moved(mark.outline, {10, 0});
    EXPECT_EQ(code_of(put(box, mark)), "");
}

/// A pocket and what fills it take the same space, and nothing is left between.
void expect_flush(const part::PartPtr& part, const Result<imprint::Imprinted>& made, double removed) {
    ASSERT_TRUE(made) << made.error().message;
    double filled = 0;
    int fillers = 0;
    for (std::size_t i = 0; i < made->part->bodies().size(); ++i) {
        const part::Body& body = made->part->bodies()[i];
        if (body.name != "mark") continue;
        ++fillers;
        filled += volume(part::occurrence(*made->part, static_cast<int>(i)).shape);
        for (const part::Face& face : made->part->faces())
            if (face.body == static_cast<int>(i)) {
                ASSERT_TRUE(face.colour);
                EXPECT_FLOAT_EQ(face.colour->red, 0.1f);
            }
    }
    EXPECT_EQ(static_cast<std::size_t>(fillers), made->part->bodies().size() - part->bodies().size());
    EXPECT_NEAR(filled / removed, 1, 1e-6);
}

TEST(Inlay, FillsItsPocketFlushWithNamedColouredBodies) {
    const part::PartPtr box = part_of(rounded_box(60, 40, 20, 2));
    for (const auto choice : routes) {
        imprint::Footprint mark = on_top(*box, lettering(choice == routes[0] ? 20 : 4, 54, 34), Mode::inlay);
        mark.colour = part::Colour{0.1f, 0.2f, 0.3f};
        const auto made = put(box, mark, choice);
        const double removed = gauss_area(mark.outline) * 0.5;
        expect(box, made, {removed, 0, route_of(choice)});
        expect_flush(box, made, removed);
        ASSERT_TRUE(made);
        EXPECT_EQ(made->part->bodies().size(), 1 + mark.outline.regions.size());
    }
}

TEST(Inlay, FollowsACylinderAndAnEdge) {
    const part::PartPtr rod = part_of(BRepPrimAPI_MakeCylinder(15, 40).Shape());
    imprint::Footprint mark = on_cylinder(*rod, lettering(6, 30, 8), Mode::inlay, 15);
    mark.colour = part::Colour{0.1f, 0.2f, 0.3f};
    const double removed = gauss_area(mark.outline) / 15 * (15 * 15 - 14.5 * 14.5) / 2;
    const auto made = put(rod, mark);
    expect(rod, made, {removed});
    expect_flush(rod, made, removed);

    const part::PartPtr box = part_of(BRepPrimAPI_MakeBox(gp_Pnt(-30, -20, 0), 60, 40, 20).Shape());
    imprint::Footprint over = on_top(*box, {{{rectangle({-3, -1}, {3, 1}), {}}}}, Mode::inlay);
    over.colour = mark.colour;
    over.outline = moved(over.outline, {30, 0}); // one half is beside the box
    const auto half = put(box, over);
    expect_flush(box, half, 3 * 2 * 0.5);
}

/// A wedge: the top is level, the bottom falls from `low` to `high` along x.
TopoDS_Shape wedge(double thin, double thick) {
    BRepBuilderAPI_MakePolygon side;
    for (const gp_Pnt& p :
         {gp_Pnt(-30, -20, 20), gp_Pnt(30, -20, 20), gp_Pnt(30, -20, 20 - thick), gp_Pnt(-30, -20, 20 - thin)})
        side.Add(p);
    side.Close();
    return BRepPrimAPI_MakePrism(BRepBuilderAPI_MakeFace(side.Wire()).Face(), gp_Vec(0, 40, 0)).Shape();
}

TEST(Through, OpensBothFacesOfAPlate) {
    const part::PartPtr plate = part_of(BRepPrimAPI_MakeBox(gp_Pnt(-30, -20, 0), 60, 40, 3).Shape());
    for (const auto choice : routes) {
        const imprint::Footprint mark =
            on_top(*plate, without_counters(lettering(choice == routes[0] ? 24 : 4, 54, 34)), Mode::through);
        expect(plate, put(plate, mark, choice), {gauss_area(mark.outline) * 3, 0, route_of(choice)});
    }
}

TEST(Through, FollowsASlopingFarSide) {
    // Over a region whose centroid has the abscissa c the wall is, on the mean, as thick as there: ∫ h dA = A h(c).
    const part::PartPtr part = part_of(solid_of(wedge(2, 8)));
    for (const auto choice : routes) {
        imprint::Footprint mark = on_top(*part, {{{circle({0, 0}, 4), {}}}}, Mode::through);
        mark.outline = moved(mark.outline, mark.map->locate({-10, 5, 20}));
        const double area = gauss_area(mark.outline); // of cubic arcs, point-symmetric about its centre
        expect(part, put(part, mark, choice), {area * (5 - 10 * 6.0 / 60), 0, route_of(choice)});
    }
}

TEST(Through, StopsBehindItsOwnWall) {
    // A box with a closed cavity: the opening joins the hollow with the outside.
    const TopoDS_Shape hollow = BRepAlgoAPI_Cut(BRepPrimAPI_MakeBox(gp_Pnt(-30, -20, 0), 60, 40, 20).Shape(),
                                                BRepPrimAPI_MakeBox(gp_Pnt(-28, -18, 2), 56, 36, 16).Shape())
                                    .Shape();
    const part::PartPtr box = part_of(solid_of(hollow));
    for (const auto choice : routes) {
        const imprint::Footprint mark = on_top(*box, without_counters(lettering(4, 40, 10)), Mode::through);
        expect(box, put(box, mark, choice), {gauss_area(mark.outline) * 2, -1, route_of(choice)});
    }
}

TEST(Through, GoesThroughTheWallOfATube) {
    const TopoDS_Shape tube =
        BRepAlgoAPI_Cut(BRepPrimAPI_MakeCylinder(15, 40).Shape(),
                        BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(0, 0, -1), gp::DZ()), 12, 50).Shape())
            .Shape();
    const part::PartPtr part = part_of(solid_of(tube));
    const imprint::Footprint mark = on_cylinder(*part, without_counters(lettering(4, 20, 6)), Mode::through, 15);
    expect(part, put(part, mark),
           {gauss_area(mark.outline) / 15 * (15 * 15 - 12 * 12) / 2, 0, imprint::Route::general});
}

TEST(Through, RefusesWhatWouldFallOutOrHasNoFarSide) {
    const part::PartPtr plate = part_of(BRepPrimAPI_MakeBox(gp_Pnt(-30, -20, 0), 60, 40, 3).Shape());
    EXPECT_EQ(code_of(put(plate, on_top(*plate, {{ring({0, 0}, 5, 3)}}, Mode::through))), "imprint.loose");
    const part::PartPtr rod = part_of(BRepPrimAPI_MakeCylinder(15, 40).Shape());
    EXPECT_EQ(code_of(put(rod, on_cylinder(*rod, without_counters(lettering(1, 3, 3)), Mode::through, 15))),
              "imprint.depth");
    // Two sheets with a hair of air between: where is the far side?
    const TopoDS_Shape slit = BRepAlgoAPI_Cut(BRepPrimAPI_MakeBox(gp_Pnt(-30, -20, 0), 60, 40, 20).Shape(),
                                              BRepPrimAPI_MakeBox(gp_Pnt(-28, -18, 18), 56, 50, 0.03).Shape())
                                  .Shape();
    const part::PartPtr box = part_of(solid_of(slit));
    EXPECT_EQ(code_of(put(box, on_top(*box, without_counters(lettering(2, 10, 4)), Mode::through))), "imprint.blocked");
}

TEST(Through, KnowsAnOpeningFromAnEdge) {
    const part::PartPtr plate = part_of(BRepPrimAPI_MakeBox(gp_Pnt(-30, -20, 0), 60, 40, 3).Shape());
    imprint::Footprint mark = on_top(*plate, {{{rectangle({-3, -1}, {3, 1}), {}}}}, Mode::through);
    mark.outline = moved(mark.outline, {29, 0});
    EXPECT_EQ(code_of(put(plate, mark, imprint::RouteChoice::direct)), "imprint.blocked"); // beside it is no material
}

TEST(Modes, MarksOnTwoFacesThatMeetInsideTheCornerAreSeen) {
    // On the top 0.3 mm from the edge, on the side 0.2 mm below it: 0.5 mm deep they cut into each other.
    const part::PartPtr box = part_of(BRepPrimAPI_MakeBox(gp_Pnt(-30, -20, 0), 60, 40, 20).Shape());
    const auto pair = [&](Mode mode) {
        imprint::Footprint top = on_top(*box, {{{rectangle({-3, -1}, {3, 1}), {}}}}, mode);
        top.outline = moved(top.outline, top.map->locate({26.7, 0, 20}));
        top.cover = Mm(0.05);
        imprint::Footprint side{
            "side", *surface::map_face(*box, farthest_flat_face(*box, {1, 0, 0})), {}, mode, Mm(0.5), {}, Mm(0.05)};
        side.outline = moved({{{rectangle({-1, -1}, {1, 1}), {}}}}, side.map->locate({30, 0, 18.8}));
        const std::array marks{top, side};
        const auto made = imprint::imprint(box, marks, {}, Progress());
        return made ? std::string() : made.error().code;
    };
    for (const Mode mode : {Mode::engrave, Mode::inlay, Mode::hidden})
        EXPECT_EQ(pair(mode), "imprint.overlap") << key_of(mode);
}

TEST(Modes, LieBesideEachOtherInOneCall) {
    const part::PartPtr box = part_of(BRepPrimAPI_MakeBox(gp_Pnt(-30, -20, 0), 60, 40, 6).Shape());
    std::vector<imprint::Footprint> marks;
    double removed = 0;
    for (std::size_t i = 0; i < modes.size(); ++i) {
        imprint::Footprint mark = on_top(*box, without_counters(lettering(2, 8, 4)), modes[i]);
        mark.name = std::string(key_of(modes[i]));
        mark.outline = moved(mark.outline, {-22 + 11.0 * static_cast<double>(i), 0});
        removed += gauss_area(mark.outline) * (modes[i] == Mode::through ? 6 : modes[i] == Mode::raise ? -0.5 : 0.5);
        marks.push_back(mark);
    }
    const auto made = imprint::imprint(box, marks, {}, Progress());
    ASSERT_TRUE(made) << made.error().message;
    const Difference is = difference(*box, *made->part, 0);
    EXPECT_TRUE(is.valid && is.closed);
    EXPECT_NEAR(is.volume / -removed, 1, 1e-9);
    for (const Mode mode : modes)
        EXPECT_TRUE(std::ranges::any_of(made->part->faces(), [&](const part::Face& f) {
            return f.mark == key_of(mode);
        })) << key_of(mode);
}

} // namespace
} // namespace touchmark::test
