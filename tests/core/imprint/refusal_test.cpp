// SPDX-License-Identifier: MIT
#include "core/imprint/clearance.h"
#include "tests/core/imprint/shapes.h"

#include <BRepAlgoAPI_Cut.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <TopExp_Explorer.hxx>
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

namespace touchmark::test {
namespace {

TopoDS_Shape solid_of(const TopoDS_Shape& shape) {
    return TopExp_Explorer(shape, TopAbs_SOLID).Current();
}

imprint::Footprint on(const part::Part& part, Vec3 side, geometry::Outline outline, Mode mode, double depth) {
    auto map = surface::map_face(part, farthest_flat_face(part, side));
    if (!map) throw std::runtime_error(map.error().message);
    return {"mark", *map, std::move(outline), mode, Mm(depth), {}};
}

std::string code_of(const part::PartPtr& part, std::vector<imprint::Footprint> marks, imprint::Options options = {}) {
    const auto marked = imprint::imprint(part, marks, options, Progress());
    return marked ? "" : marked.error().code;
}

std::shared_ptr<const imprint::Obstacles> obstacles_of(const part::Part& part) {
    auto found = imprint::Obstacles::of(part, {Mm(0.005), Degrees(5)}, Progress());
    if (!found) throw std::runtime_error(found.error().message);
    return *found;
}

TEST(Clearance, RefusesWhatPokesThroughAndNotWhatLeavesEnough) {
    const part::PartPtr plate = part_of(BRepPrimAPI_MakeBox(gp_Pnt(-30, -20, 0), 60, 40, 2).Shape());
    const auto cut = [&](double depth) { return on(*plate, {0, 0, 1}, lettering(6, 40, 20), Mode::engrave, depth); };
    EXPECT_EQ(code_of(plate, {cut(2.5)}), "imprint.pokes_through");
    EXPECT_EQ(code_of(plate, {cut(2.0)}), "imprint.pokes_through");
    EXPECT_EQ(code_of(plate, {cut(1.96)}), "imprint.pokes_through"); // 0.04 left, 0.05 wanted
    EXPECT_EQ(code_of(plate, {cut(1.94)}), "");
    EXPECT_EQ(code_of(plate, {cut(1.5)}, {Mm(0.6), {}}), "imprint.pokes_through");
    const auto behind = obstacles_of(*plate);
    EXPECT_NEAR(behind->wall_behind(cut(0.5))->thickness, 1.5, 1e-6);
    EXPECT_NEAR(behind->wall_behind(cut(2.5))->thickness, -0.5, 1e-6);
}

TEST(Clearance, SeesAHoleThatRunsBehindTheFace) {
    // A cross hole of radius 2 whose top is 3 below the face, along x at y = 5.
    const TopoDS_Shape hole = BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(-50, 5, 15), gp::DX()), 2, 100).Shape();
    const part::PartPtr box = part_of(solid_of(BRepAlgoAPI_Cut(rounded_box(60, 40, 20, 2), hole).Shape()));
    const auto behind = obstacles_of(*box);
    const auto bar = [&](double y, double depth) {
        return on(*box, {0, 0, 1}, {{{rectangle({-10, y - 0.5}, {10, y + 0.5}), {}}}}, Mode::engrave, depth);
    };
    EXPECT_NEAR(behind->wall_behind(bar(5, 1))->thickness, 2, 0.01);
    EXPECT_NEAR(behind->wall_behind(bar(5, 4))->thickness, -1, 0.01);
    // From the floor's edge at (1.5, 1 deep) to the axis at (5, 5 deep).
    EXPECT_NEAR(behind->wall_behind(bar(1, 1))->thickness, std::hypot(3.5, 4) - 2, 0.01);
    // Deep beside the hole, it is the wall of the cut that comes near: y = 2.5 to y = 3.
    EXPECT_NEAR(behind->wall_behind(bar(2, 8))->thickness, 0.5, 0.01);
    EXPECT_EQ(code_of(box, {bar(5, 2.98)}), "imprint.pokes_through");
    EXPECT_EQ(code_of(box, {bar(5, 2.9)}), "");
}

TEST(Clearance, IsNotFooledByACoarseMesh) {
    // The facets of a hole lie inside the hole: at 0.5 mm the wall over it looks thicker than it is.
    const TopoDS_Shape hole = BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(-50, 5, 0), gp::DX()), 15, 100).Shape();
    const part::PartPtr box = part_of(solid_of(BRepAlgoAPI_Cut(rounded_box(60, 40, 20, 2), hole).Shape()));
    const imprint::Options coarse{Mm(0.05), {Mm(0.5), Degrees(60)}};
    for (double y = 0; y < 10; y += 0.7) {
        // The hole's top over y, and 20 is the face.
        const auto roof = [&](double at) { return std::sqrt(15 * 15 - (at - 5) * (at - 5)); };
        const double low = std::max(roof(y - 0.2), roof(y + 0.2)), most = std::abs(y - 5) < 0.2 ? 15 : low;
        const auto bar = [&](double depth) {
            return on(*box, {0, 0, 1}, {{{rectangle({-10, y - 0.2}, {10, y + 0.2}), {}}}}, Mode::engrave, depth);
        };
        EXPECT_EQ(code_of(box, {bar(20 - most - 0.03)}, coarse), "imprint.pokes_through") << y;
        EXPECT_EQ(code_of(box, {bar(20 - most - 0.08)}, coarse), "") << y;
    }
}

TEST(Clearance, LeavesSideWallsToTheEdgeMarginButNotUndercuts) {
    const part::PartPtr box = part_of(BRepPrimAPI_MakeBox(gp_Pnt(-30, -20, 0), 60, 40, 20).Shape());
    const geometry::Outline near_edge{{{rectangle({29, -5}, {29.8, 5}), {}}}};
    EXPECT_NEAR(obstacles_of(*box)->wall_behind(on(*box, {0, 0, 1}, near_edge, Mode::engrave, 1))->thickness, 19, 1e-6);
    // A roof whose side leans in by 45° under its edge: from the floor's corner, 1 deep and 2 from the edge, 1/√2.
    const geometry::Region wedge{geometry::contour_of(geometry::Polygon{{-20, 0}, {0, 20}, {-40, 20}}), {}};
    gp_Trsf stand;
    stand.SetRotation(gp_Ax1(gp_Pnt(), gp::DX()), std::numbers::pi / 2);
    const part::PartPtr roof = part_of(extruded(wedge, -20, 40).Moved(TopLoc_Location(stand)));
    auto mark = on(*roof, {0, 0, 1}, {}, Mode::engrave, 1);
    const Vec2 at = mark.map->locate({-3, 0, 20});
    mark.outline = {{{rectangle(at - Vec2{1, 3}, at + Vec2{1, 3}), {}}}};
    EXPECT_NEAR(obstacles_of(*roof)->wall_behind(mark)->thickness, 1 / std::sqrt(2.0), 1e-3);
}

TEST(Clearance, TellsHowMuchRoomIsAbove) {
    // A slot from the side: its floor faces up, its roof is 3 above.
    const TopoDS_Shape slot = BRepPrimAPI_MakeBox(gp_Pnt(-15, -30, 8), 30, 60, 3).Shape();
    const part::PartPtr box = part_of(solid_of(BRepAlgoAPI_Cut(rounded_box(60, 40, 20, 2), slot).Shape()));
    int floor = -1;
    for (const part::Face& face : box->faces())
        if (face.kind == part::FaceKind::plane && face.frame.z.z > 0.9 && std::abs(face.centroid.z - 8) < 1e-6)
            floor = face.index;
    ASSERT_GE(floor, 0);
    imprint::Footprint mark{"mark", *surface::map_face(*box, floor), lettering(4, 16, 8), Mode::raise, Mm(0.5), {}};
    EXPECT_NEAR(*obstacles_of(*box)->room_above(mark), 3, 1e-6);
    EXPECT_EQ(code_of(box, {mark}), "");
    mark.depth = Mm(3);
    EXPECT_EQ(code_of(box, {mark}), "imprint.blocked");
    EXPECT_FALSE(obstacles_of(*box)->room_above(on(*box, {0, 0, 1}, lettering(4, 16, 8), Mode::raise, 1)));
}

TEST(Refusals, NameWhatIsWrong) {
    const part::PartPtr box = part_of(rounded_box(60, 40, 20, 2));
    const geometry::Outline text = lettering(4, 16, 8);
    const auto cut = [&](geometry::Outline outline, double depth) {
        return on(*box, {0, 0, 1}, std::move(outline), Mode::engrave, depth);
    };
    EXPECT_EQ(code_of(box, {cut(text, 0)}), "imprint.depth");
    EXPECT_EQ(code_of(box, {cut(text, -1)}), "imprint.depth");
    EXPECT_EQ(code_of(box, {cut(text, std::nan(""))}), "imprint.depth");
    EXPECT_EQ(code_of(box, {cut({}, 0.5)}), "imprint.outside");
    EXPECT_EQ(code_of(box, {cut(moved(text, {100, 0}), 0.5)}), "imprint.outside");
    EXPECT_EQ(code_of(box, {cut(text, 0.5), cut(moved(text, {2, 1}), 0.5)}), "imprint.overlap");
    EXPECT_EQ(code_of(box, {cut(text, 0.5), cut({{{rectangle({-20, -15}, {20, 15}), {}}}}, 0.5)}), "imprint.overlap");
    EXPECT_EQ(code_of(box, {cut(text, 0.5), cut(moved(text, {0, 9}), 0.5)}), "");
}

TEST(Refusals, MarksOnTwoFacesMustNotMeetInside) {
    const part::PartPtr box = part_of(BRepPrimAPI_MakeBox(gp_Pnt(-30, -20, 0), 60, 40, 20).Shape());
    auto top = on(*box, {0, 0, 1}, {}, Mode::engrave, 3), front = on(*box, {0, -1, 0}, {}, Mode::engrave, 3);
    const auto square = [](Vec2 at) { return geometry::Outline{{{rectangle(at - Vec2{2, 1}, at + Vec2{2, 1}), {}}}}; };
    top.outline = square(top.map->locate({0, -18, 20}));
    front.outline = square(front.map->locate({0, -20, 18}));
    EXPECT_EQ(code_of(box, {top, front}), "imprint.overlap");
    front.outline = square(front.map->locate({0, -20, 10}));
    EXPECT_EQ(code_of(box, {top, front}), "");
}

TEST(Refusals, CancellingChangesNothing) {
    const part::PartPtr box = part_of(rounded_box(60, 40, 20, 2));
    const auto mark = on(*box, {0, 0, 1}, lettering(4, 16, 8), Mode::engrave, 0.5);
    Progress progress;
    progress.cancel();
    const auto marked = imprint::imprint(box, std::span(&mark, 1), {}, progress);
    ASSERT_FALSE(marked);
    EXPECT_EQ(marked.error().code, cancelled_code);
}

} // namespace
} // namespace touchmark::test
