// SPDX-License-Identifier: MIT

// The quick way to measure a face against the general one, whose accuracy has tests of its own.

#include "core/part/simple_face.h"
#include "core/part/vectors.h"

#include <BRepAdaptor_Curve.hxx>
#include <BRepAdaptor_Surface.hxx>
#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepLib.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRepPrimAPI_MakePrism.hxx>
#include <Geom_BSplineSurface.hxx>
#include <Geom_BezierCurve.hxx>
#include <Geom_Plane.hxx>
#include <TColStd_Array1OfInteger.hxx>
#include <TColStd_Array1OfReal.hxx>
#include <TColgp_Array1OfPnt.hxx>
#include <TColgp_Array2OfPnt.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <gtest/gtest.h>

#include <numbers>
#include <random>

namespace touchmark::test {
namespace {

void expect_alike(const TopoDS_Face& face, const Vec3& about) {
    const auto quick = part::measure_simply(face, about);
    ASSERT_TRUE(quick);
    const part::FaceMeasure whole = part::measure_generally(face, about);
    EXPECT_EQ(quick->kind, whole.kind);
    EXPECT_NEAR(quick->area, whole.area, 2e-6 * whole.area); // both by quadrature
    EXPECT_NEAR(quick->volume, whole.volume, 1e-8 * whole.area * (1 + length(whole.centroid - about)));
    EXPECT_LT(distance(quick->centroid, whole.centroid), 5e-6);
    EXPECT_LT(distance(quick->frame.origin, whole.frame.origin), 5e-6);
    EXPECT_LT(distance(quick->frame.z, whole.frame.z), 1e-9);
    EXPECT_LT(distance(quick->frame.x, whole.frame.x), 1e-9);
    // The general one may be a little wide.
    Box3 seen;
    for (TopExp_Explorer edge(face, TopAbs_EDGE); edge.More(); edge.Next()) {
        const BRepAdaptor_Curve curve(TopoDS::Edge(edge.Current()));
        for (int i = 0; i <= 5000; ++i)
            seen.add(part::vec(
                curve.Value(curve.FirstParameter() + (curve.LastParameter() - curve.FirstParameter()) * i / 5000)));
    }
    EXPECT_LT(distance(quick->box.low, seen.low), 2e-5);
    EXPECT_LT(distance(quick->box.high, seen.high), 2e-5);
}

/// A prism over a closed chain of lines, parabolas and cubics.
TopoDS_Shape prism(std::mt19937& random) {
    std::uniform_real_distribution<double> off(-0.3, 0.3);
    std::vector<gp_Pnt> corners;
    for (int i = 0; i < 7; ++i) {
        const double angle = i * 2 * 3.14159265358979 / 7;
        corners.emplace_back(5 * std::cos(angle) + off(random), 5 * std::sin(angle) + off(random), 3);
    }
    BRepBuilderAPI_MakeWire wire;
    for (std::size_t i = 0; i < corners.size(); ++i) {
        const gp_Pnt a = corners[i], b = corners[(i + 1) % corners.size()];
        const int degree = static_cast<int>(i % 3) + 1;
        TColgp_Array1OfPnt poles(1, degree + 1);
        for (int k = 0; k <= degree; ++k) {
            const double t = double(k) / degree, bulge = k > 0 && k < degree ? 0.8 + off(random) : 0;
            const gp_Vec out = gp_Vec(gp_Pnt(0, 0, 3), a).Normalized();
            poles(k + 1) = gp_Pnt(a.XYZ() * (1 - t) + b.XYZ() * t).Translated(out * bulge);
        }
        wire.Add(degree == 1 ? BRepBuilderAPI_MakeEdge(a, b).Edge()
                             : BRepBuilderAPI_MakeEdge(new Geom_BezierCurve(poles)).Edge());
    }
    const TopoDS_Face base = BRepBuilderAPI_MakeFace(new Geom_Plane(gp_Pnt(1, 2, 3), gp::DZ()), wire.Wire(), true);
    return BRepPrimAPI_MakePrism(base, gp_Vec(0, 0, 2)).Shape();
}

TEST(SimpleFace, OfAPrismOverLinesAndBeziersIsMeasuredAsTheGeneralWayDoes) {
    std::mt19937 random(7);
    int strips = 0, flats = 0;
    for (int i = 0; i < 20; ++i) {
        const TopoDS_Shape shape = prism(random);
        for (TopExp_Explorer face(shape, TopAbs_FACE); face.More(); face.Next()) {
            const TopoDS_Face& own = TopoDS::Face(face.Current());
            if (const auto quick = part::measure_simply(own, {1, 2, 3})) {
                ++(quick->kind == part::FaceKind::plane ? flats : strips);
                expect_alike(own, {1, 2, 3});
                expect_alike(TopoDS::Face(own.Reversed()), {-4, 0, 9});
            }
        }
    }
    EXPECT_GT(strips, 20);
    EXPECT_GT(flats, 20);
}

TEST(SimpleFace, OfAStraightStripBetweenTwoQuinticsIsMeasuredAsTheGeneralWayDoes) {
    std::mt19937 random(8);
    std::uniform_real_distribution<double> off(-0.02, 0.02);
    for (int i = 0; i < 20; ++i) {
        TColgp_Array2OfPnt poles(1, 6, 1, 2);
        for (int k = 1; k <= 6; ++k)
            for (int row = 1; row <= 2; ++row)
                poles(k, row) = gp_Pnt(k + off(random), std::sin(k) + off(random), 2.0 * row + off(random));
        TColStd_Array1OfReal u(1, 2), v(1, 2);
        TColStd_Array1OfInteger u_fold(1, 2), v_fold(1, 2);
        u(1) = 0, u(2) = 1, v(1) = 0, v(2) = 0.7;
        u_fold.Init(6), v_fold.Init(2);
        const Handle(Geom_BSplineSurface) surface = new Geom_BSplineSurface(poles, u, v, u_fold, v_fold, 5, 1);
        const TopoDS_Face face = BRepBuilderAPI_MakeFace(surface, 1e-7).Face();
        expect_alike(face, {0.5, 0.5, 1});
    }
}

TEST(SimpleFace, RollsOutCylinders) {
    std::mt19937 random(11);
    std::uniform_real_distribution<double> any(-1, 1), angle(0.2, 2 * std::numbers::pi);
    for (int i = 0; i < 20; ++i) {
        const gp_Ax2 axes(gp_Pnt(50 * any(random), 50 * any(random), 50 * any(random)),
                          gp_Dir(any(random), any(random), 1.1 + any(random)));
        const double radius = 5 + 4 * any(random), height = 5 + 4 * any(random);
        BRepPrimAPI_MakeCylinder whole(axes, radius, height), piece(axes, radius, height, angle(random));
        for (const TopoDS_Shape& shape : {whole.Shape(), piece.Shape()})
            for (TopExp_Explorer item(shape, TopAbs_FACE); item.More(); item.Next()) {
                const TopoDS_Face& face = TopoDS::Face(item.Current());
                if (BRepAdaptor_Surface(face).GetType() != GeomAbs_Cylinder) continue;
                expect_alike(face, part::vec(axes.Location()));
                expect_alike(TopoDS::Face(face.Reversed()), {1, 2, 3});
            }
    }
}

TEST(SimpleFace, IsNoRoundStripNorOneUnderALocation) {
    // A cylinder stored as a strip between two arcs would be taken for what it is, which takes longer.
    const Handle(Geom_BezierCurve) bow = [] {
        TColgp_Array1OfPnt poles(1, 3);
        poles(1) = gp_Pnt(10, -0.1, 0), poles(2) = gp_Pnt(10.0005, 0, 0), poles(3) = gp_Pnt(10, 0.1, 0);
        return new Geom_BezierCurve(poles);
    }();
    for (TopExp_Explorer face(BRepPrimAPI_MakePrism(BRepBuilderAPI_MakeEdge(bow).Edge(), gp_Vec(0, 0, 1)).Shape(),
                              TopAbs_FACE);
         face.More(); face.Next())
        EXPECT_FALSE(part::measure_simply(TopoDS::Face(face.Current()), {}));
    std::mt19937 random(9);
    gp_Trsf moved;
    moved.SetTranslation(gp_Vec(1, 0, 0));
    for (TopExp_Explorer face(prism(random).Moved(TopLoc_Location(moved)), TopAbs_FACE); face.More(); face.Next())
        EXPECT_FALSE(part::measure_simply(TopoDS::Face(face.Current()), {}));
}

} // namespace
} // namespace touchmark::test
