// SPDX-License-Identifier: MIT
#include "tests/core/imprint/shapes.h"

#include <BRepAlgoAPI_Cut.hxx>
#include <BRepAlgoAPI_Fuse.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <TopExp_Explorer.hxx>
#include <gtest/gtest.h>

#include <numbers>
#include <random>

namespace touchmark::test {
namespace {

TopoDS_Shape solid_of(const TopoDS_Shape& shape) {
    return TopExp_Explorer(shape, TopAbs_SOLID).Current();
}

TopoDS_Shape bored_box() {
    const TopoDS_Shape bore = BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(0, 0, -1), gp::DZ()), 6, 30).Shape();
    return solid_of(BRepAlgoAPI_Cut(rounded_box(60, 40, 20, 2), bore).Shape());
}

imprint::Footprint on_top(const part::Part& part, geometry::Outline outline, Mode mode, double depth) {
    auto map = surface::map_face(part, farthest_flat_face(part, {0, 0, 1}));
    if (!map) throw std::runtime_error(map.error().message);
    // The tests think in the part's x and y.
    const Vec2 origin = (*map)->locate({0, 0, 20});
    return {"mark", *map, moved(outline, origin), mode, Mm(depth), {}};
}

Result<imprint::Imprinted> put(const part::PartPtr& part, const imprint::Footprint& mark) {
    return imprint::imprint(part, std::span(&mark, 1), {}, Progress());
}

TEST(GeneralRoute, CutsOverAStraightEdgeOfABoxByHand) {
    // 10 × 4 of which 4 × 4 lie on the box: the rest is air. Volume by hand.
    const part::PartPtr box = part_of(BRepPrimAPI_MakeBox(gp_Pnt(-30, -20, 0), 60, 40, 20).Shape());
    const geometry::Outline outline{{{rectangle({26, -2}, {36, 2}), {}}}};
    const auto cut = put(box, on_top(*box, outline, Mode::engrave, 0.5));
    ASSERT_TRUE(cut) << cut.error().message;
    EXPECT_EQ(cut->marks[0].route, imprint::Route::general);
    EXPECT_NEAR(cut->marks[0].volume_change_mm3, -4 * 4 * 0.5, 1e-9);
    EXPECT_NEAR(cut->part->volume_mm3(), 60 * 40 * 20 - 8, 1e-6);
    const auto raised = put(box, on_top(*box, outline, Mode::raise, 0.5));
    ASSERT_TRUE(raised) << raised.error().message;
    // It reaches 0.1 under the face where it overhangs.
    EXPECT_NEAR(raised->marks[0].volume_change_mm3, 10 * 4 * 0.5 + 6 * 4 * 0.1, 1e-9);
    EXPECT_NEAR(raised->part->volume_mm3(), 60 * 40 * 20 + 20 + 2.4, 1e-6);
}

TEST(GeneralRoute, CutsOverAHoleByHand) {
    const part::PartPtr box = part_of(bored_box());
    // A bar of 2 mm across the bore: removed is the bar less what the bore had taken.
    const geometry::Outline outline{{{rectangle({-10, -1}, {10, 1}), {}}}};
    const auto cut = put(box, on_top(*box, outline, Mode::engrave, 0.4));
    ASSERT_TRUE(cut) << cut.error().message;
    const double r = 6, h = 1, in_bore = 2 * (h * std::sqrt(r * r - h * h) + r * r * std::asin(h / r));
    EXPECT_NEAR(cut->marks[0].volume_change_mm3, -(40 - in_bore) * 0.4, 1e-6);
    const Difference is = difference(*box, *cut->part, 0);
    EXPECT_TRUE(is.valid && is.closed && is.same_counts);
}

TEST(GeneralRoute, LeavesTheRestOfTheTextToTheDirectOne) {
    const part::PartPtr box = part_of(rounded_box(60, 40, 20, 2));
    for (const Mode mode : relief_modes) {
        const geometry::Outline outline = moved(lettering(12, 36, 6), {16, 0});
        const auto marked = put(box, on_top(*box, outline, mode, 0.5));
        ASSERT_TRUE(marked) << marked.error().message;
        EXPECT_EQ(marked->marks[0].route, imprint::Route::mixed);
        const Difference is = difference(*box, *marked->part, 0);
        EXPECT_TRUE(is.valid && is.closed && is.same_counts);
        EXPECT_NEAR(is.volume / marked->marks[0].volume_change_mm3, 1, 1e-5);
    }
}

TEST(GeneralRoute, AgreesWithTheDirectOne) {
    const part::PartPtr box = part_of(rounded_box(60, 40, 20, 2));
    const geometry::Outline outline = moved(lettering(3, 20, 8), {-12, 0});
    const auto direct = put(box, on_top(*box, outline, Mode::engrave, 0.5));
    ASSERT_TRUE(direct);
    TopoDS_Shape cut = part::occurrence(*box, 0).shape;
    for (const geometry::Region& region : outline.regions) {
        // Independent of the tool that the code builds: the region's polygon, extruded from above, by OpenCASCADE.
        cut = solid_of(BRepAlgoAPI_Cut(cut, extruded(region, 19.5, 1.0)).Shape());
    }
    const part::PartPtr general = part_of(cut);
    EXPECT_NEAR((box->volume_mm3() - general->volume_mm3()) / -direct->marks[0].volume_change_mm3, 1, 1e-4);
    EXPECT_NEAR((box->volume_mm3() - direct->part->volume_mm3()) / -direct->marks[0].volume_change_mm3, 1, 1e-6);
}

TEST(GeneralRoute, IsBlockedByMaterialThatStandsOnTheFace) {
    const TopoDS_Shape boss = BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(0, 0, 15), gp::DZ()), 6, 15).Shape();
    const part::PartPtr part = part_of(solid_of(BRepAlgoAPI_Fuse(rounded_box(60, 40, 20, 2), boss).Shape()));
    auto mark = on_top(*part, {{{rectangle({-10, -1}, {10, 1}), {}}}}, Mode::engrave, 0.4);
    int lower = -1;
    for (const part::Face& face : part->faces())
        if (face.kind == part::FaceKind::plane && face.frame.z.z > 0.9 && face.area_mm2 > 1000) lower = face.index;
    mark.map = *surface::map_face(*part, lower);
    mark.outline = moved({{{rectangle({-10, -1}, {10, 1}), {}}}}, mark.map->locate({0, 0, 20}));
    const auto cut = put(part, mark);
    ASSERT_FALSE(cut);
    EXPECT_EQ(cut.error().code, "imprint.blocked");
    // Beside it, nothing is in the way.
    mark.outline = moved({{{rectangle({-10, -1}, {10, 1}), {}}}}, mark.map->locate({0, 12, 20}));
    EXPECT_TRUE(put(part, mark));
}

TEST(GeneralRoute, HoldsAtRandomPlacesOverFilletHoleAndCorner) {
    const part::PartPtr box = part_of(bored_box());
    std::mt19937 random(7);
    const auto pick = [&](double low, double high) { return std::uniform_real_distribution(low, high)(random); };
    for (int i = 0; i < 12; ++i) {
        const double angle = pick(0, 360), turn = angle * std::numbers::pi / 180;
        const Vec2 at = i % 3 == 0   ? Vec2{28 + pick(-1, 1), pick(-10, 10)}
                        : i % 3 == 1 ? Vec2{6 * std::cos(turn), 6 * std::sin(turn)}
                                     : Vec2{27, 17};
        const geometry::Outline outline = moved(
            geometry::transformed(moved(letter(i % 5), {-0.5, -0.5}), geometry::Affine::scale(pick(2, 5))), at, angle);
        const Mode mode = i % 2 ? Mode::raise : Mode::engrave;
        const auto marked = put(box, on_top(*box, outline, mode, pick(0.2, 0.8)));
        ASSERT_TRUE(marked) << i << ": " << marked.error().message;
        const Difference is = difference(*box, *marked->part, 0);
        EXPECT_TRUE(is.valid && is.closed && is.same_counts) << i;
        EXPECT_NEAR(is.volume, marked->marks[0].volume_change_mm3, 1e-4 * std::abs(is.volume) + 1e-6) << i;
    }
}

} // namespace
} // namespace touchmark::test
