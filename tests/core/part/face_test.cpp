// SPDX-License-Identifier: MIT

// Faces of bodies whose measures are known. Formulas of area, volume and centroid: Bronstein, Semendjajew, "Taschenbuch
// der Mathematik", 3.3 (stereometry); ISO 80000-2 for the notation.

#include "tests/core/part/made_parts.h"

#include <BRepAlgoAPI_Cut.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_NurbsConvert.hxx>
#include <BRepBuilderAPI_Transform.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeCone.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRepPrimAPI_MakePrism.hxx>
#include <BRepPrimAPI_MakeSphere.hxx>
#include <BRepPrimAPI_MakeTorus.hxx>
#include <BRep_Builder.hxx>
#include <Geom_BezierSurface.hxx>
#include <TColgp_Array2OfPnt.hxx>
#include <TopoDS_Compound.hxx>
#include <gmock/gmock.h>
#include <gp_Pln.hxx>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

namespace touchmark::test {
namespace {

constexpr double pi = 3.14159265358979323846;

const part::Face& only(const part::Part& part, part::FaceKind kind) {
    const part::Face* found = nullptr;
    for (const part::Face& face : part.faces())
        if (face.kind == kind) {
            if (found) ADD_FAILURE() << "several";
            found = &face;
        }
    if (!found) throw std::runtime_error("none");
    return *found;
}

void expect_at(const Vec3& got, const Vec3& wanted, double tolerance = 1e-9) {
    EXPECT_NEAR(distance(got, wanted), 0, tolerance) << got.x << ' ' << got.y << ' ' << got.z;
}

double turn(double degrees) {
    return degrees * pi / 180;
}

gp_Trsf placing() {
    gp_Trsf rotation, shift;
    rotation.SetRotation(gp_Ax1(gp_Pnt(1, 2, 3), gp_Dir(1, 1, 0.3)), turn(70));
    shift.SetTranslation(gp_Vec(100, -50, 20));
    return shift * rotation;
}

Vec3 moved(const Vec3& p, const gp_Trsf& by) {
    const gp_Pnt q = gp_Pnt(p.x, p.y, p.z).Transformed(by);
    return {q.X(), q.Y(), q.Z()};
}

TEST(Face, ABoxHasSixPlanesThatLookOutward) {
    const auto part = made_part(BRepPrimAPI_MakeBox(10, 20, 30).Shape());
    ASSERT_EQ(part->faces().size(), 6u);
    EXPECT_NEAR(part->volume_mm3(), 6000, 1e-9);
    expect_at(part->box().low, {0, 0, 0});
    expect_at(part->box().high, {10, 20, 30});
    std::vector<double> areas;
    for (const part::Face& face : part->faces()) {
        EXPECT_EQ(face.kind, part::FaceKind::plane);
        const Vec3 outward = face.centroid - part->box().centre();
        EXPECT_NEAR(dot(face.frame.z, normalised(outward)), 1, 1e-12);
        expect_at(face.frame.origin, face.centroid);
        expect_at(cross(face.frame.x, face.frame.y), face.frame.z);
        areas.push_back(face.area_mm2);
    }
    std::ranges::sort(areas);
    EXPECT_THAT(areas, testing::ElementsAre(testing::DoubleNear(200, 1e-9), testing::DoubleNear(200, 1e-9),
                                            testing::DoubleNear(300, 1e-9), testing::DoubleNear(300, 1e-9),
                                            testing::DoubleNear(600, 1e-9), testing::DoubleNear(600, 1e-9)));
}

TEST(Face, ACylinder) {
    const auto part = made_part(BRepPrimAPI_MakeCylinder(5, 12).Shape());
    const part::Face& side = only(*part, part::FaceKind::cylinder);
    EXPECT_NEAR(side.area_mm2, 2 * pi * 5 * 12, 1e-9);
    EXPECT_DOUBLE_EQ(side.radius_mm, 5);
    expect_at(side.centroid, {0, 0, 6});
    EXPECT_NEAR(std::abs(side.frame.z.z), 1, 1e-12);
    EXPECT_NEAR(part->volume_mm3(), pi * 25 * 12, 1e-9);
}

TEST(Face, AConeWithAndWithoutItsApex) {
    const auto frustum = made_part(BRepPrimAPI_MakeCone(6, 2, 8).Shape());
    const double slant = std::hypot(4, 8);
    EXPECT_NEAR(only(*frustum, part::FaceKind::cone).area_mm2, pi * (6 + 2) * slant, 1e-9);
    EXPECT_NEAR(frustum->volume_mm3(), pi * 8 / 3 * (36 + 12 + 4), 1e-9);
    const auto whole = made_part(BRepPrimAPI_MakeCone(6, 0, 8).Shape());
    EXPECT_NEAR(only(*whole, part::FaceKind::cone).area_mm2, pi * 6 * 10, 1e-9);
    EXPECT_NEAR(whole->volume_mm3(), pi * 36 * 8 / 3, 1e-9);
    expect_at(only(*whole, part::FaceKind::cone).centroid, {0, 0, 8.0 / 3});
}

TEST(Face, ASphereAndACap) {
    const auto ball = made_part(BRepPrimAPI_MakeSphere(7).Shape());
    EXPECT_NEAR(only(*ball, part::FaceKind::sphere).area_mm2, 4 * pi * 49, 1e-9);
    EXPECT_DOUBLE_EQ(only(*ball, part::FaceKind::sphere).radius_mm, 7);
    EXPECT_NEAR(ball->volume_mm3(), 4 * pi * 343 / 3, 1e-9);
    // A cap of height h: 2πrh, volume πh²(3r − h)/3.
    const auto cap = made_part(BRepPrimAPI_MakeSphere(gp::XOY(), 7, turn(30), turn(90)).Shape());
    EXPECT_NEAR(only(*cap, part::FaceKind::sphere).area_mm2, 2 * pi * 7 * 3.5, 1e-9);
    EXPECT_NEAR(cap->volume_mm3(), pi * 3.5 * 3.5 * (21 - 3.5) / 3, 1e-9);
}

TEST(Face, ATorus) {
    const auto ring = made_part(BRepPrimAPI_MakeTorus(20, 4).Shape());
    EXPECT_NEAR(only(*ring, part::FaceKind::torus).area_mm2, 4 * pi * pi * 20 * 4, 1e-8);
    EXPECT_DOUBLE_EQ(only(*ring, part::FaceKind::torus).radius_mm, 20);
    EXPECT_NEAR(ring->volume_mm3(), 2 * pi * pi * 20 * 16, 1e-8);
    expect_at(only(*ring, part::FaceKind::torus).centroid, {0, 0, 0});
    // A quarter of the tube, turned by 100° only (Pappus and Guldin: area = arc × way of its centroid).
    const auto part = made_part(BRepPrimAPI_MakeTorus(20, 4, 0, turn(90), turn(100)).Shape());
    const double centroid = 20 + 4 * 2 / pi;
    EXPECT_NEAR(only(*part, part::FaceKind::torus).area_mm2, (4 * pi / 2) * centroid * turn(100), 1e-8);
}

TEST(Face, TheSameBodiesAsSplinesMeasureTheSame) {
    const std::vector<TopoDS_Shape> shapes{
        BRepPrimAPI_MakeBox(10, 20, 30).Shape(), BRepPrimAPI_MakeCylinder(5, 12).Shape(),
        BRepPrimAPI_MakeCone(6, 2, 8).Shape(), BRepPrimAPI_MakeSphere(7).Shape(), BRepPrimAPI_MakeTorus(20, 4).Shape()};
    for (const TopoDS_Shape& shape : shapes) {
        const auto exact = made_part(shape), spline = made_part(BRepBuilderAPI_NurbsConvert(shape, true).Shape());
        ASSERT_EQ(exact->faces().size(), spline->faces().size());
        EXPECT_NEAR(spline->volume_mm3(), exact->volume_mm3(), 1e-6 * exact->volume_mm3());
        for (std::size_t i = 0; i < exact->faces().size(); ++i) {
            EXPECT_NEAR(spline->faces()[i].area_mm2, exact->faces()[i].area_mm2, 1e-6 * exact->faces()[i].area_mm2);
            expect_at(spline->faces()[i].centroid, exact->faces()[i].centroid, 1e-5);
            // Flat is flat and round is round, whatever they are stored as.
            const bool curved =
                exact->faces()[i].kind == part::FaceKind::sphere || exact->faces()[i].kind == part::FaceKind::torus;
            EXPECT_EQ(spline->faces()[i].kind, curved ? part::FaceKind::freeform : exact->faces()[i].kind);
            if (exact->faces()[i].kind == part::FaceKind::plane)
                expect_at(spline->faces()[i].frame.z, exact->faces()[i].frame.z);
        }
    }
}

TEST(Face, ASplineThatBulgesALittleIsNotFlat) {
    for (const double bulge : {0.0, 5e-7, 1e-5, 0.1}) {
        TColgp_Array2OfPnt poles(1, 4, 1, 4);
        for (int i = 1; i <= 4; ++i)
            for (int j = 1; j <= 4; ++j)
                poles(i, j) = gp_Pnt(10 * i, 8 * j, i == 2 && j == 3 ? bulge : 0);
        const auto part = made_part(
            BRepPrimAPI_MakePrism(BRepBuilderAPI_MakeFace(new Geom_BezierSurface(poles), 1e-7).Face(), gp_Vec(0, 0, 5))
                .Shape());
        int flat = 0;
        for (const part::Face& face : part->faces())
            flat += face.kind == part::FaceKind::plane ? 1 : 0;
        // The sides are extrusions of straight splines.
        EXPECT_EQ(flat, bulge < 1e-6 ? 6 : 4) << bulge;
    }
}

TEST(Face, ABoredPlateHasItsHolesTakenOff) {
    TopoDS_Shape plate = BRepPrimAPI_MakeBox(60, 40, 5).Shape();
    for (const double x : {10.0, 30.0, 50.0})
        plate = BRepAlgoAPI_Cut(plate, BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(x, 20, -1), gp::DZ()), 4, 10).Shape())
                    .Shape();
    const auto part = made_part(plate);
    const double hole = pi * 16;
    EXPECT_NEAR(part->volume_mm3(), 5 * (2400 - 3 * hole), 1e-8);
    int bores = 0;
    for (const part::Face& face : part->faces()) {
        if (face.kind == part::FaceKind::cylinder) ++bores;
        if (std::abs(face.frame.z.z) > 0.9 && face.kind == part::FaceKind::plane) {
            EXPECT_NEAR(face.area_mm2, 2400 - 3 * hole, 1e-8);
        }
    }
    EXPECT_EQ(bores, 3);
}

TEST(Face, PlacedBodiesAreMeasuredWhereTheyLie) {
    const gp_Trsf by = placing();
    const TopoDS_Shape shape =
        BRepAlgoAPI_Cut(BRepPrimAPI_MakeBox(10, 20, 30).Shape(), BRepPrimAPI_MakeCylinder(4, 40).Shape()).Shape();
    const auto home = made_part(shape), away = made_part(shape, TopLoc_Location(by)),
               baked = made_part(BRepBuilderAPI_Transform(shape, by, true).Shape());
    ASSERT_EQ(home->faces().size(), away->faces().size());
    EXPECT_NEAR(away->volume_mm3(), home->volume_mm3(), 1e-9);
    EXPECT_NEAR(baked->volume_mm3(), home->volume_mm3(), 1e-8);
    for (std::size_t i = 0; i < home->faces().size(); ++i) {
        const part::Face &at_home = home->faces()[i], &there = away->faces()[i], &in_place = baked->faces()[i];
        expect_at(there.centroid, moved(at_home.centroid, by));
        expect_at(in_place.centroid, there.centroid, 1e-8);
        if (there.kind == part::FaceKind::plane) expect_at(in_place.frame.z, there.frame.z);
        EXPECT_NE(there.fingerprint, at_home.fingerprint);
    }
}

TEST(Face, MirroredBodiesLookOutwardStill) {
    gp_Trsf mirror;
    mirror.SetMirror(gp_Ax2(gp_Pnt(40, 0, 0), gp::DX()));
    const auto part =
        made_part(BRepBuilderAPI_Transform(BRepPrimAPI_MakeBox(10, 20, 30).Shape(), mirror, true).Shape());
    EXPECT_NEAR(part->volume_mm3(), 6000, 1e-9);
    for (const part::Face& face : part->faces()) {
        EXPECT_GT(dot(face.frame.z, face.centroid - part->box().centre()), 0);
        expect_at(cross(face.frame.x, face.frame.y), face.frame.z);
    }
}

TEST(Face, AModelWithoutBodiesIsNoPart) {
    const auto code_of = [](const TopoDS_Shape& shape) {
        part::Model model;
        model.products.emplace_back().shape = shape;
        model.roots.emplace_back();
        const auto part = part::make_part(std::move(model), {}, Progress());
        return part ? std::string("made") : part.error().code;
    };
    TopoDS_Compound nothing;
    BRep_Builder().MakeCompound(nothing);
    EXPECT_EQ(code_of(TopoDS_Shape()), "part.empty");
    EXPECT_EQ(code_of(nothing), "part.empty");
    EXPECT_EQ(code_of(BRepBuilderAPI_MakeFace(gp_Pln(), 0, 1, 0, 1).Shape()), "part.no_solid");
}

TEST(Face, ColoursComeFromTheNearestThatHasOne) {
    const part::Colour red{1, 0, 0}, blue{0, 0, 1}, grey{0.5f, 0.5f, 0.5f};
    const TopoDS_Shape box = BRepPrimAPI_MakeBox(1, 1, 1).Shape();
    const auto colours = [&](bool face, bool instance, bool product) {
        part::Model model;
        part::Product& made = model.products.emplace_back();
        made.shape = box;
        if (product) made.colour = grey;
        if (face) {
            part::Styled styled;
            styled.shape = part::face_shape(*made_part(box), 2);
            styled.surface = red;
            styled.name = "lid";
            made.styled.push_back(styled);
        }
        part::Instance& root = model.roots.emplace_back();
        if (instance) root.colour = blue;
        return *part::make_part(std::move(model), {}, Progress());
    };
    EXPECT_EQ(colours(true, true, true)->faces()[2].colour, red);
    EXPECT_EQ(colours(true, true, true)->faces()[2].name, "lid");
    EXPECT_EQ(colours(true, true, true)->faces()[1].colour, blue);
    EXPECT_EQ(colours(true, false, true)->faces()[1].colour, grey);
    EXPECT_EQ(colours(true, false, false)->faces()[1].colour, std::nullopt);
}

} // namespace
} // namespace touchmark::test
