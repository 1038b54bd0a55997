// SPDX-License-Identifier: MIT
#include "tests/core/imprint/shapes.h"
#include "tests/support/solid_check.h"

#include <BRepAlgoAPI_Cut.hxx>
#include <BRepBuilderAPI_Transform.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRepPrimAPI_MakeSphere.hxx>
#include <STEPControl_Writer.hxx>
#include <TopExp_Explorer.hxx>
#include <gtest/gtest.h>

#include <filesystem>
#include <random>

namespace touchmark::test {
namespace {

TopoDS_Shape solid_of(const TopoDS_Shape& shape) {
    return TopExp_Explorer(shape, TopAbs_SOLID).Current();
}

imprint::Footprint footprint(const part::Part& part, int face, geometry::Outline outline, Mode mode, double depth) {
    auto map = surface::map_face(part, face);
    if (!map) throw std::runtime_error(map.error().message);
    return {"mark", *map, std::move(outline), mode, Mm(depth), {}};
}

Result<imprint::Imprinted> put(const part::PartPtr& part, const imprint::Footprint& mark) {
    return imprint::imprint(part, std::span(&mark, 1), {}, Progress());
}

SolidFigures written_and_read(const TopoDS_Shape& shape, const std::string& name) {
    STEPControl_Writer writer;
    const auto file = std::filesystem::temp_directory_path() / ("direct_" + name + ".step");
    if (writer.Transfer(shape, STEPControl_AsIs) != IFSelect_RetDone || writer.Write(file.c_str()) != IFSelect_RetDone)
        throw std::runtime_error("cannot write " + file.string());
    const SolidFigures read = read_bare(file);
    std::filesystem::remove(file);
    return read;
}

/// The mark is made directly, the solid is valid and closed, and the volume changed by area × depth.
void expect_exact(const part::PartPtr& part, const imprint::Footprint& mark) {
    const auto marked = put(part, mark);
    ASSERT_TRUE(marked) << marked.error().message;
    EXPECT_EQ(marked->marks[0].route, imprint::Route::direct);
    const double sign = mark.mode == Mode::engrave ? -1 : 1;
    const double expected = sign * gauss_area(mark.outline) * mark.depth.value;
    const Difference is =
        difference(*part, *marked->part, part->faces()[static_cast<std::size_t>(mark.map->face())].body);
    EXPECT_NEAR(is.volume / expected, 1, 1e-9);
    EXPECT_NEAR(marked->marks[0].volume_change_mm3 / expected, 1, 1e-12);
    EXPECT_TRUE(is.valid);
    EXPECT_TRUE(is.closed);
    EXPECT_TRUE(is.same_counts);
}

class BothModes : public testing::TestWithParam<Mode> {};
INSTANTIATE_TEST_SUITE_P(Direct, BothModes, testing::ValuesIn(relief_modes),
                         [](const auto& mode) { return std::string(key_of(mode.param)); });

TEST_P(BothModes, ChangesTheVolumeByAreaTimesDepth) {
    const part::PartPtr box = part_of(rounded_box(60, 40, 20, 2));
    const int top = farthest_flat_face(*box, {0, 0, 1});
    for (const int letters : {1, 6, 100})
        expect_exact(box, footprint(*box, top, lettering(letters, 54, 34), GetParam(), 0.5));
}

TEST_P(BothModes, PutsARegionWithinACounterOnTheIsland) {
    const part::PartPtr box = part_of(rounded_box(60, 40, 20, 2));
    geometry::Outline target{{ring({0, 0}, 12, 10), ring({0, 0}, 8, 6), ring({0, 0}, 4, 2), {circle({0, 0}, 1), {}}}};
    expect_exact(box, footprint(*box, farthest_flat_face(*box, {0, 0, 1}), target, GetParam(), 0.5));
}

TEST_P(BothModes, GoesRoundAHoleOfTheFace) {
    // The hole ends up in the counter, on the island.
    const TopoDS_Shape bore = BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(5, 3, -1), gp::DZ()), 3, 30).Shape();
    const part::PartPtr box = part_of(solid_of(BRepAlgoAPI_Cut(rounded_box(60, 40, 20, 2), bore).Shape()));
    auto mark = footprint(*box, farthest_flat_face(*box, {0, 0, 1}), {}, GetParam(), 0.5);
    mark.outline = {{ring(mark.map->locate({5, 3, 20}), 5, 4)}};
    expect_exact(box, mark);
}

TEST_P(BothModes, WorksOnEverySideWhateverTheFaceIsStoredAs) {
    // A box holds planes along and against their faces, forward and reversed; a mirrored one left-handed planes too.
    gp_Trsf mirror;
    mirror.SetMirror(gp_Ax2(gp_Pnt(3, 4, 5), gp_Dir(1, 2, 3)));
    const TopoDS_Shape plain = BRepPrimAPI_MakeBox(gp_Pnt(100, 200, 300), 60, 40, 20).Shape();
    for (const TopoDS_Shape& shape : {plain, BRepBuilderAPI_Transform(plain, mirror, Standard_True).Shape()}) {
        const part::PartPtr box = part_of(solid_of(shape));
        for (const part::Face& face : box->faces())
            expect_exact(box, footprint(*box, face.index, lettering(5, 16, 16), GetParam(), 0.5));
    }
}

TEST_P(BothModes, WorksInProductsThatLieTurnedMovedAndMirrored) {
    for (const bool mirrored : {false, true}) {
        gp_Trsf placing;
        if (mirrored) placing.SetMirror(gp_Ax2(gp_Pnt(3, 4, 5), gp_Dir(1, 2, 3)));
        gp_Trsf turn;
        turn.SetRotation(gp_Ax1(gp_Pnt(1, 2, 3), gp_Dir(1, 1, 1)), 0.7);
        part::Model model;
        model.products.push_back({"block", rounded_box(60, 40, 20, 2), {}, {}, {}});
        model.roots.push_back({0, TopLoc_Location(turn * placing), "block", {}});
        auto part = part::make_part(std::move(model), {}, Progress());
        ASSERT_TRUE(part);
        for (const part::Face& face : (*part)->faces()) {
            if (face.kind != part::FaceKind::plane) continue;
            const auto mark = footprint(**part, face.index, lettering(5, 14, 14), GetParam(), 0.5);
            const auto marked = put(*part, mark);
            ASSERT_TRUE(marked) << marked.error().message;
            // The mark reads the right way round: the floor of the "I" lies under its outline, in the part's
            // coordinates.
            const double height = GetParam() == Mode::engrave ? -0.5 : 0.5;
            Vec2 middle;
            for (const geometry::Segment& side : mark.outline.regions[0].outer.segments)
                middle = middle + side.start() * 0.25;
            const Vec3 wanted = mark.map->point(middle) + mark.map->normal({}) * height;
            double nearest = 1e300, floors = 0;
            for (const part::Face& made : (*marked).part->faces()) {
                const double over = dot(made.centroid - mark.map->point({}), mark.map->normal({}));
                if (made.mark != "mark" || std::abs(over - height) > 1e-6) continue;
                EXPECT_NEAR(dot(made.frame.z, mark.map->normal({})), 1, 1e-9);
                floors += made.area_mm2;
                nearest = std::min(nearest, distance(made.centroid, wanted));
            }
            EXPECT_NEAR(floors, gauss_area(mark.outline), 1e-6);
            EXPECT_LT(nearest, 1e-6);
            EXPECT_NEAR((*marked).part->volume_mm3() - (*part)->volume_mm3(), gauss_area(mark.outline) * height, 1e-5);
        }
    }
}

TEST_P(BothModes, KeepsHollowsInside) {
    const TopoDS_Shape hollow = BRepPrimAPI_MakeSphere(gp_Pnt(0, 0, 10), 5).Shape();
    const part::PartPtr box = part_of(solid_of(BRepAlgoAPI_Cut(rounded_box(60, 40, 20, 2), hollow).Shape()));
    expect_exact(box, footprint(*box, farthest_flat_face(*box, {0, 0, 1}), lettering(6, 30, 20), GetParam(), 0.5));
}

TEST_P(BothModes, WorksFarFromTheOrigin) {
    gp_Trsf away;
    away.SetTranslation(gp_Vec(1e5, -2e5, 3e5));
    const part::PartPtr box =
        part_of(solid_of(BRepBuilderAPI_Transform(rounded_box(60, 40, 20, 2), away, true).Shape()));
    const auto mark = footprint(*box, farthest_flat_face(*box, {0, 0, 1}), lettering(6, 30, 20), GetParam(), 0.5);
    const auto marked = put(box, mark);
    ASSERT_TRUE(marked) << marked.error().message;
    const Difference is = difference(*box, *marked->part, 0);
    // Coordinates there are good to 3e-11 mm.
    EXPECT_NEAR(std::abs(is.volume) / (gauss_area(mark.outline) * 0.5), 1, 1e-6);
    EXPECT_TRUE(is.valid && is.closed && is.same_counts);
}

TEST(Direct, HoldsAtRandomPlacesTurnsAndSizes) {
    const part::PartPtr box = part_of(rounded_box(60, 40, 20, 2));
    const int top = farthest_flat_face(*box, {0, 0, 1});
    std::mt19937 random(11);
    const auto pick = [&](double low, double high) { return std::uniform_real_distribution(low, high)(random); };
    for (int i = 0; i < 100; ++i) {
        const double size = pick(0.5, 8);
        const geometry::Outline outline = moved(geometry::transformed(letter(i), geometry::Affine::scale(size)),
                                                {pick(-18, 18), pick(-8, 8)}, pick(0, 360));
        expect_exact(box, footprint(*box, top, outline, i % 2 ? Mode::raise : Mode::engrave, pick(0.05, 3)));
    }
}

TEST(Direct, PutsSeveralMarksOnOneFaceAndOnOthers) {
    const part::PartPtr box = part_of(rounded_box(60, 40, 20, 2));
    const int top = farthest_flat_face(*box, {0, 0, 1}), front = farthest_flat_face(*box, {0, -1, 0});
    // The third stands in the counter of the first.
    std::vector<imprint::Footprint> marks{footprint(*box, top, {{ring({-12, 0}, 10, 7)}}, Mode::engrave, 0.5),
                                          footprint(*box, top, moved(lettering(4, 10, 10), {14, 0}), Mode::raise, 0.4),
                                          footprint(*box, top, moved(lettering(1, 6, 6), {-12, 0}), Mode::raise, 0.3),
                                          footprint(*box, front, lettering(4, 20, 8), Mode::engrave, 0.6)};
    for (std::size_t i = 0; i < marks.size(); ++i)
        marks[i].name = "mark " + std::to_string(i);
    const auto marked = imprint::imprint(box, marks, {}, Progress());
    ASSERT_TRUE(marked) << marked.error().message;
    double expected = 0;
    int added = 0;
    for (std::size_t i = 0; i < marks.size(); ++i) {
        const double change =
            gauss_area(marks[i].outline) * marks[i].depth.value * (marks[i].mode == Mode::engrave ? -1 : 1);
        EXPECT_NEAR(marked->marks[i].volume_change_mm3, change, 1e-9);
        expected += change;
        added += marked->marks[i].faces_added;
        int carrying = 0;
        for (const part::Face& face : marked->part->faces())
            carrying += face.mark == marks[i].name;
        EXPECT_GT(carrying, 0);
    }
    EXPECT_NEAR(marked->part->volume_mm3() - box->volume_mm3(), expected, 1e-6);
    EXPECT_EQ(marked->part->faces().size(), box->faces().size() + static_cast<std::size_t>(added));
    const Difference is = difference(*box, *marked->part, 0);
    EXPECT_TRUE(is.valid && is.closed && is.same_counts);
}

TEST(Direct, SharesEveryFaceThatItDoesNotTouch) {
    const part::PartPtr part = open_any("as1-oc-214.stp");
    int face = -1;
    for (const part::Face& candidate : part->faces())
        if (candidate.kind == part::FaceKind::plane && (face < 0 || candidate.area_mm2 > 1000)) face = candidate.index;
    const auto marked = put(part, footprint(*part, face, lettering(2, 6, 3), Mode::engrave, 0.2));
    ASSERT_TRUE(marked) << marked.error().message;
    std::size_t shared = 0;
    for (const part::Face& old : part->faces())
        for (const part::Face& now : marked->part->faces())
            if (part::face_shape(*part, old.index).TShape() == part::face_shape(*marked->part, now.index).TShape() &&
                old.fingerprint == now.fingerprint) {
                ++shared;
                break;
            }
    EXPECT_EQ(shared, part->faces().size() - 1);
}

TEST(Direct, SurvivesAStepFileReadByTheBareReader) {
    for (const char* name : {"as1-oc-214.stp", "io1-cm-214.stp", "cube-in.step"}) {
        const part::PartPtr part = open_any(name);
        int face = 0;
        for (const part::Face& candidate : part->faces())
            if (candidate.kind == part::FaceKind::plane &&
                candidate.area_mm2 > part->faces()[static_cast<std::size_t>(face)].area_mm2)
                face = candidate.index;
        const auto mark = footprint(*part, face, lettering(6, 9, 4.5), Mode::engrave, 0.3);
        const auto marked = put(part, mark);
        ASSERT_TRUE(marked) << marked.error().message;
        const int body = part->faces()[static_cast<std::size_t>(face)].body;
        const SolidFigures before = written_and_read(part::occurrence(*part, body).shape, name);
        const SolidFigures after = written_and_read(part::occurrence(*marked->part, body).shape, name);
        EXPECT_TRUE(after.valid && after.closed) << name;
        EXPECT_EQ(after.solids, 1) << name;
        EXPECT_EQ(after.faces - before.faces, marked->marks[0].faces_added) << name;
        // The general integration over a face with many holes is off by some 1e-7 of the whole solid.
        EXPECT_NEAR(after.volume - before.volume, gauss_area(mark.outline) * -0.3, 1e-6 * before.volume) << name;
    }
}

} // namespace
} // namespace touchmark::test
