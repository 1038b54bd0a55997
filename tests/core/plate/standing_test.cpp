// SPDX-License-Identifier: MIT
#include "core/part/shape.h"
#include "core/plate/plate.h"
#include "tests/core/plate/profile.h"

#include <gtest/gtest.h>

#include <BRepAlgoAPI_Fuse.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakePolygon.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakePrism.hxx>
#include <gp_Vec.hxx>

#include <cmath>

namespace touchmark::plate {
namespace {

part::PartPtr part_of(const TopoDS_Shape& shape) {
    part::Model model;
    model.products.emplace_back();
    model.products.front().shape = shape;
    model.roots.emplace_back();
    auto part = part::make_part(std::move(model), Digest{1, 2}, Progress());
    if (!part) throw std::runtime_error(part.error().message);
    return *part;
}

Meshes meshes_of(const part::Part& part) {
    auto meshes = part::tessellate(part, {}, Progress());
    if (!meshes) throw std::runtime_error(meshes.error().message);
    return *meshes;
}

std::vector<Standing> standings(const TopoDS_Shape& shape, Vec3 wall) {
    const part::PartPtr part = part_of(shape);
    return stand_with_side_wall(*part, meshes_of(*part), wall, {{0, 0, -1}, Degrees(15)}, test::common_profile());
}

// A box 10 × 20 × 30: footprints 200, 300 and 600 mm².
TEST(StandWithSideWall, LaysABoxOnItsLargestFaceBesideTheWall) {
    const auto found = standings(BRepPrimAPI_MakeBox(10, 20, 30).Shape(), {0, 0, 1});
    ASSERT_EQ(found.size(), 4u); // the four faces beside ±z
    EXPECT_NEAR(found[0].footing_mm2, 600, 1e-6);
    EXPECT_NEAR(found[0].height_mm, 10, 1e-4);
    EXPECT_NEAR(std::abs(found[0].pose.down.x), 1, 1e-12);
    EXPECT_NEAR(found[3].footing_mm2, 300, 1e-6);
    EXPECT_NEAR(found[3].height_mm, 20, 1e-4);
    for (const Standing& standing : found)
        EXPECT_EQ(standing.pose.turn, Degrees(15));
}

TEST(StandWithSideWall, TheFaceNamedIsTheOneOnThePlate) {
    const part::PartPtr part = part_of(BRepPrimAPI_MakeBox(10, 20, 30).Shape());
    const Meshes meshes = meshes_of(*part);
    const process::Process process = test::common_profile();
    for (const Standing& standing : stand_with_side_wall(*part, meshes, {1, 0, 0}, {}, process)) {
        const part::Face& face = part->faces()[static_cast<std::size_t>(standing.face)];
        const Placement placement = placement_of(standing.pose, meshes);
        EXPECT_EQ(zone_at(placement, face.frame.origin, face.frame.z, process), Zone::bottom);
        EXPECT_EQ(zone_at(placement, {10, 10, 15}, {1, 0, 0}, process), Zone::side_wall);
        EXPECT_NEAR(face.area_mm2, standing.footing_mm2, 1e-9);
    }
}

TEST(StandWithSideWall, DoesNotStandOnWhatSomethingJutsBelow) {
    // A plate with a knob under it cannot lie on the face round the knob.
    const TopoDS_Shape plate = BRepPrimAPI_MakeBox(gp_Pnt(0, 0, 0), gp_Pnt(40, 40, 10)).Shape();
    const TopoDS_Shape knob = BRepPrimAPI_MakeBox(gp_Pnt(15, 15, -5), gp_Pnt(25, 25, 0)).Shape();
    const auto found = standings(BRepAlgoAPI_Fuse(plate, knob).Shape(), {1, 0, 0});
    ASSERT_FALSE(found.empty());
    EXPECT_NEAR(found[0].pose.down.z, 1, 1e-12); // on its top, the largest face there is
    EXPECT_NEAR(found[0].footing_mm2, 1600, 1e-6);
    for (const Standing& standing : found)
        if (standing.pose.down.z < -0.5) {
            EXPECT_NEAR(standing.footing_mm2, 100, 1e-6); // on the knob, not round it
        }
}

TEST(StandWithSideWall, CountsAllFeetOnOneLevel) {
    // A bridge on two feet of 10 × 40 mm.
    TopoDS_Shape bridge = BRepPrimAPI_MakeBox(gp_Pnt(0, 0, 10), gp_Pnt(60, 40, 20)).Shape();
    bridge = BRepAlgoAPI_Fuse(bridge, BRepPrimAPI_MakeBox(gp_Pnt(0, 0, 0), gp_Pnt(10, 40, 10)).Shape()).Shape();
    bridge = BRepAlgoAPI_Fuse(bridge, BRepPrimAPI_MakeBox(gp_Pnt(50, 0, 0), gp_Pnt(60, 40, 10)).Shape()).Shape();
    bool on_feet = false;
    for (const Standing& standing : standings(bridge, {0, 1, 0}))
        if (standing.pose.down.z < -0.5) {
            on_feet = true;
            EXPECT_NEAR(standing.footing_mm2, 800, 1e-6);
        }
    EXPECT_TRUE(on_feet);
}

TEST(StandWithSideWall, DoesNotTopple) {
    // A prism that leans over by more than its foot is wide: its small end faces do not carry it.
    BRepBuilderAPI_MakePolygon outline(gp_Pnt(0, 0, 0), gp_Pnt(10, 0, 0), gp_Pnt(50, 0, 60), gp_Pnt(40, 0, 60), true);
    const TopoDS_Shape leaning =
        BRepPrimAPI_MakePrism(BRepBuilderAPI_MakeFace(outline.Wire()).Face(), gp_Vec(0, 20, 0)).Shape();
    const auto found = standings(leaning, {0, 1, 0});
    ASSERT_FALSE(found.empty());
    for (const Standing& standing : found)
        EXPECT_LT(std::abs(standing.pose.down.z), 0.99) << "stands on the foot it topples over";
}

TEST(StandWithSideWall, FindsNothingOnAPartWithoutAFlatFaceBesideTheWall) {
    // Every candidate of a thin sheet seen from its large face is under 1 mm².
    EXPECT_TRUE(standings(BRepPrimAPI_MakeBox(5, 5, 0.1).Shape(), {0, 0, 1}).empty());
}

} // namespace
} // namespace touchmark::plate
