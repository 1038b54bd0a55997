// SPDX-License-Identifier: MIT

// Bodies of OpenCASCADE's primitives, converted to rational B-splines by BRepBuilderAPI_NurbsConvert or stored as swept
// and parallel surfaces: what they are is known from how they were made.

#include "core/part/recognise.h"

#include "tests/core/part/made_parts.h"
#include "tests/support/open_parts.h"
#include "tests/support/reader.h"

#include <BRepAdaptor_Surface.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_NurbsConvert.hxx>
#include <BRepPrimAPI_MakeCone.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRepPrimAPI_MakeSphere.hxx>
#include <BRepPrimAPI_MakeTorus.hxx>
#include <BRep_Tool.hxx>
#include <GeomConvert.hxx>
#include <Geom_BSplineSurface.hxx>
#include <Geom_BezierCurve.hxx>
#include <Geom_Circle.hxx>
#include <Geom_ConicalSurface.hxx>
#include <Geom_CylindricalSurface.hxx>
#include <Geom_Line.hxx>
#include <Geom_OffsetSurface.hxx>
#include <Geom_RectangularTrimmedSurface.hxx>
#include <Geom_SurfaceOfLinearExtrusion.hxx>
#include <Geom_SurfaceOfRevolution.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <gp_Circ.hxx>
#include <gtest/gtest.h>

#include <cmath>
#include <map>

namespace touchmark::test {
namespace {

const gp_Ax3 tilted(gp_Pnt(12, -7, 30), gp_Dir(0.3, -0.4, 0.8), gp_Dir(1, 1, 0));

TopoDS_Face patch(const Handle(Geom_Surface) & surface, double u0, double u1, double v0, double v1) {
    return BRepBuilderAPI_MakeFace(surface, u0, u1, v0, v1, 1e-7).Face();
}

Handle(Geom_BSplineSurface) spline(const Handle(Geom_Surface) & surface, double u0, double u1, double v0, double v1) {
    return GeomConvert::SurfaceToBSplineSurface(new Geom_RectangularTrimmedSurface(surface, u0, u1, v0, v1));
}

/// As it is natural for a surface: all of it.
TopoDS_Face whole(const Handle(Geom_BSplineSurface) & surface) {
    return BRepBuilderAPI_MakeFace(surface, 1e-7).Face();
}

void expect_axis(const part::RoundForm& form, const gp_Ax3& axes) {
    EXPECT_LT(form.axes.Direction().XYZ().CrossMagnitude(axes.Direction().XYZ()), 1e-8);
    EXPECT_LT(gp_Lin(axes.Axis()).Distance(form.axes.Location()), 1e-6);
}

void expect_cylinder(const TopoDS_Face& face, double radius) {
    EXPECT_FALSE(part::recognised_plane(face));
    const auto form = part::recognised_round(face);
    ASSERT_TRUE(form);
    expect_axis(*form, tilted);
    EXPECT_NEAR(form->radius, radius, 1e-6);
    EXPECT_EQ(form->semi_angle, 0);
}

void expect_cone(const TopoDS_Face& face, const gp_Cone& cone) {
    EXPECT_FALSE(part::recognised_plane(face));
    const auto form = part::recognised_round(face);
    ASSERT_TRUE(form);
    expect_axis(*form, cone.Position());
    const double way = form->axes.Direction().Dot(cone.Position().Direction());
    EXPECT_NEAR(form->semi_angle * way, cone.SemiAngle(), 1e-7);
    const double along = gp_Vec(cone.Location(), form->axes.Location()).Dot(gp_Vec(cone.Position().Direction()));
    EXPECT_NEAR(form->radius, cone.RefRadius() + along * std::tan(cone.SemiAngle()), 1e-6);
}

TEST(Recognise, ACylinderOrConeStoredAsASplineIsFoundToTheAxis) {
    const Handle(Geom_Surface) cylinder = new Geom_CylindricalSurface(tilted, 15);
    expect_cylinder(whole(spline(cylinder, 0, 2 * M_PI, -10, 25)), 15); // once round
    expect_cylinder(whole(spline(cylinder, 0.3, 3.4, -10, 25)), 15);
    expect_cylinder(whole(spline(cylinder, 1, 1.2, 0, 3)), 15); // a bulge of 0.02 mm
    const gp_Cone shape(tilted, 0.35, 20);
    const Handle(Geom_Surface) cone = new Geom_ConicalSurface(shape);
    expect_cone(whole(spline(cone, 0, 2 * M_PI, -5, 20)), shape);
    expect_cone(whole(spline(cone, 2, 2.6, -5, 20)), shape);
    const gp_Cone narrowing(tilted, -0.2, 20);
    expect_cone(whole(spline(new Geom_ConicalSurface(narrowing), 1, 4, -5, 20)), narrowing);
}

TEST(Recognise, OnlyWhatTheFaceCoversCounts) {
    // Half a cylinder that runs on as something else.
    Handle(Geom_BSplineSurface) surface = spline(new Geom_CylindricalSurface(tilted, 15), 0, 3, 0, 20);
    surface->IncreaseDegree(5, 3);
    surface->InsertUKnot(0.5 * (surface->UKnot(1) + surface->UKnot(surface->NbUKnots())), 5, 1e-9, Standard_False);
    const double end = surface->UKnot(surface->NbUKnots()), start = surface->UKnot(1), middle = (start + end) / 2;
    const int last = surface->NbUPoles();
    for (int k = 1; k <= surface->NbVPoles(); ++k)
        surface->SetPole(last, k, surface->Pole(last, k).Translated(gp_Vec(3, 3, 3)));
    EXPECT_FALSE(part::recognised_round(whole(surface)));
    expect_cylinder(patch(surface, start, middle, 2, 18), 15);
}

TEST(Recognise, SweptParallelAndTrimmedSurfacesToo) {
    const Handle(Geom_Curve) circle = new Geom_Circle(gp_Circ(tilted.Ax2(), 15));
    const Handle(Geom_Surface) extrusion = new Geom_SurfaceOfLinearExtrusion(circle, tilted.Direction());
    expect_cylinder(patch(extrusion, 0.2, 2, 0, 10), 15);
    expect_cylinder(patch(new Geom_OffsetSurface(extrusion, -3), 0.2, 2, 0, 10), 12);
    expect_cylinder(
        patch(new Geom_RectangularTrimmedSurface(new Geom_OffsetSurface(extrusion, 2), 0., 3., 0., 20.), 0.2, 2, 1, 10),
        17);
    const auto turned = [](const gp_Dir& way) {
        const gp_Pnt start = tilted.Location().Translated(gp_Vec(tilted.XDirection()) * 15);
        return new Geom_SurfaceOfRevolution(new Geom_Line(start, way), tilted.Axis());
    };
    expect_cylinder(patch(turned(tilted.Direction()), 1, 3, 0, 10), 15);
    const gp_Dir slanting(gp_Vec(tilted.Direction()) * std::cos(0.4) + gp_Vec(tilted.XDirection()) * std::sin(0.4));
    expect_cone(patch(turned(slanting), 1, 3, 0, 10), gp_Cone(tilted, 0.4, 15));
    const TopoDS_Face disc = patch(turned(tilted.XDirection()), 1, 3, 0, 10);
    const auto plane = part::recognised_plane(disc);
    ASSERT_TRUE(plane);
    EXPECT_LT(plane->Distance(tilted.Location()), 1e-9);
    EXPECT_GT(std::abs(plane->Axis().Direction().Dot(tilted.Direction())), 1 - 1e-12);
}

TEST(Recognise, TheNormalOfTheParametersIsKept) {
    for (const bool inward : {false, true}) {
        Handle(Geom_BSplineSurface) surface = spline(new Geom_CylindricalSurface(tilted, 15), 0.3, 3.4, -10, 25);
        if (inward) surface->UReverse();
        const auto form = part::recognised_round(whole(surface));
        ASSERT_TRUE(form);
        EXPECT_EQ(form->axes.Direct(), !inward);
    }
}

TEST(Recognise, WhatIsOffByMoreThanTheToleranceStaysWhatItIs) {
    EXPECT_EQ(part::taken_within, 1e-6);
    for (const double bump : {0.0, 5e-7, 4e-6, 1e-4}) {
        Handle(Geom_BSplineSurface) surface = spline(new Geom_CylindricalSurface(tilted, 15), 0.3, 1.4, 0, 10);
        surface->IncreaseDegree(3, 3);
        const double u0 = surface->UKnot(1), u1 = surface->UKnot(surface->NbUKnots());
        for (int k = 1; k < 40; ++k) // a narrow bump, between the points of any coarse grid
            surface->InsertUKnot(u0 + (u1 - u0) * k / 40, 1, 1e-9, Standard_False);
        const int at = surface->NbUPoles() / 2;
        gp_Pnt p;
        gp_Vec du, dv;
        surface->D1(surface->UKnot(20), surface->VKnot(1), p, du, dv);
        const gp_Vec normal = du.Crossed(dv).Normalized();
        for (int k = 1; k <= surface->NbVPoles(); ++k)
            surface->SetPole(at, k, surface->Pole(at, k).Translated(normal * bump));
        EXPECT_EQ(part::recognised_round(whole(surface)).has_value(), bump < 1e-6) << bump;
    }
}

TEST(Recognise, OtherCurvedSurfacesAreNeither) {
    for (const TopoDS_Shape& shape : {BRepPrimAPI_MakeSphere(7).Shape(), BRepPrimAPI_MakeTorus(20, 4).Shape(),
                                      BRepPrimAPI_MakeTorus(2000, 4).Shape()}) {
        const TopoDS_Shape splined = BRepBuilderAPI_NurbsConvert(shape).Shape();
        for (TopExp_Explorer face(splined, TopAbs_FACE); face.More(); face.Next())
            EXPECT_FALSE(part::recognised_round(TopoDS::Face(face.Current())));
    }
    // Flat to a micrometre: it could be any of them.
    EXPECT_FALSE(part::recognised_round(whole(spline(new Geom_CylindricalSurface(tilted, 15), 1, 1.02, 0, 3))));
    // An elliptic cylinder has generators, but is not round.
    TColgp_Array1OfPnt poles(1, 3);
    poles(1) = gp_Pnt(0, 0, 0), poles(2) = gp_Pnt(5, 6, 0), poles(3) = gp_Pnt(10, 0, 0);
    EXPECT_FALSE(part::recognised_round(
        patch(new Geom_SurfaceOfLinearExtrusion(new Geom_BezierCurve(poles), gp::DZ()), 0, 1, 0, 5)));
}

/// How many faces that a file does not store as planes, cylinders or cones are some.
std::array<int, 3> recognised_in(std::string_view file) {
    const part::PartPtr part = read_part(open_part(file));
    std::array<int, 3> count{};
    for (const part::Face& face : part->faces()) {
        const BRepAdaptor_Surface stored(part::face_shape(*part, face.index), Standard_False);
        if (stored.GetType() < GeomAbs_BezierSurface) continue;
        if (face.kind == part::FaceKind::plane) ++count[0];
        if (face.kind == part::FaceKind::cylinder) ++count[1];
        if (face.kind == part::FaceKind::cone) ++count[2];
    }
    return count;
}

TEST(Recognise, ThePartsOfTheOpenSetThatAreAllSplines) {
    // Counted with a tolerance ten times as wide and a hundred times as narrow, it is the same.
    EXPECT_EQ(recognised_in("dm1-id-214.stp"), (std::array{35, 13, 0}));
    EXPECT_EQ(recognised_in("io1-tu-203.stp"), (std::array{0, 22, 2}));
    EXPECT_EQ(recognised_in("component8.step"), (std::array{7, 2, 10}));
    EXPECT_EQ(recognised_in("as1-oc-214.stp"), (std::array{0, 70, 0}));
}

} // namespace
} // namespace touchmark::test
