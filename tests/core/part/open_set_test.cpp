// SPDX-License-Identifier: MIT

// Every STEP file of the open set opens. What we say of it is checked against what can be had without us: the mesh of
// the same part (volume by the divergence theorem, area by summing triangles), figures that the files' makers state,
// and OpenCASCADE's own adaptive integration.

#include "core/part/shape.h"
#include "tests/support/open_parts.h"
#include "tests/support/reader.h"

#include <BRepAdaptor_Curve.hxx>
#include <BRepGProp.hxx>
#include <GProp_GProps.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Iterator.hxx>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

namespace touchmark::test {
namespace {

struct Expected {
    std::string file;
    std::size_t bodies, faces; ///< counted in the files: placed MANIFOLD_SOLID_BREPs and their ADVANCED_FACEs
    std::string unit;

    friend void PrintTo(const Expected& expected, std::ostream* out) { *out << expected.file; }
};

class OpenSet : public testing::TestWithParam<Expected> {};

Vec3 at(const part::FaceMesh& mesh, std::uint32_t i) {
    return {mesh.points[i][0], mesh.points[i][1], mesh.points[i][2]};
}

TEST_P(OpenSet, OpensWithItsBodiesAndFaces) {
    const auto part = read_part(open_part(GetParam().file));
    EXPECT_EQ(part->bodies().size(), GetParam().bodies);
    EXPECT_EQ(part->faces().size(), GetParam().faces);
    EXPECT_EQ(part->file_unit(), GetParam().unit);
    EXPECT_FALSE(part->name().empty());
    EXPECT_THAT(part->notes(), testing::IsEmpty());
    for (const part::Body& body : part->bodies()) {
        EXPECT_TRUE(body.solid);
        EXPECT_TRUE(body.valid) << body.path;
        EXPECT_GT(body.volume_mm3, 0) << body.path;
    }
    for (const part::Face& face : part->faces()) {
        EXPECT_EQ(face.index, &face - part->faces().data());
        EXPECT_GT(face.area_mm2, 0) << face.index;
        EXPECT_NEAR(length(face.frame.z), 1, 1e-12);
        EXPECT_NEAR(distance(cross(face.frame.x, face.frame.y), face.frame.z), 0, 1e-12);
        EXPECT_EQ(part::find_face(*part, face.fingerprint, face.index), face.index);
    }
}

/// A mesh within `deflection` of the surface has its volume within area × deflection of the solid's.
TEST_P(OpenSet, HasTheAreaAndVolumeOfItsMesh) {
    const auto part = read_part(open_part(GetParam().file));
    const double size = length(part->box().size());
    const auto meshes = part::tessellate(*part, {Mm(size / 10'000), Degrees(6)}, Progress());
    ASSERT_TRUE(meshes) << meshes.error().message;
    double volume = 0, area = 0, measured_area = 0;
    const Vec3 origin = part->box().centre();
    for (const part::Face& face : part->faces()) {
        const part::FaceMesh& mesh = *(*meshes)[static_cast<std::size_t>(face.index)];
        double face_area = 0;
        for (const auto& triangle : mesh.triangles) {
            const Vec3 a = at(mesh, triangle[0]) - origin, b = at(mesh, triangle[1]) - origin,
                       c = at(mesh, triangle[2]) - origin;
            volume += dot(a, cross(b, c)) / 6;
            face_area += length(cross(b - a, c - a)) / 2;
        }
        EXPECT_NEAR(face_area, face.area_mm2, 0.02 * face.area_mm2 + 1e-6 * size * size) << "face " << face.index;
        area += face_area;
        measured_area += face.area_mm2;
    }
    EXPECT_NEAR(area, measured_area, 5e-3 * measured_area);
    EXPECT_NEAR(volume, part->volume_mm3(), area * size / 10'000 + 2e-3 * part->volume_mm3());
}

/// Of a planar face, by the closed polygons of its wires, whose corners lie on the edges' curves in space.
double polygon_area(const TopoDS_Face& face, int pieces_an_edge) {
    gp_XYZ twice(0, 0, 0);
    for (TopExp_Explorer wire(face.Oriented(TopAbs_FORWARD), TopAbs_WIRE); wire.More(); wire.Next()) {
        std::vector<TopoDS_Edge> edges;
        for (TopoDS_Iterator item(wire.Current()); item.More(); item.Next())
            edges.push_back(TopoDS::Edge(item.Value()));
        if (wire.Current().Orientation() == TopAbs_REVERSED) std::ranges::reverse(edges);
        std::vector<gp_XYZ> corners;
        for (const TopoDS_Edge& edge : edges) {
            const BRepAdaptor_Curve curve(edge);
            const bool reversed = edge.Orientation() == TopAbs_REVERSED;
            const double from = reversed ? curve.LastParameter() : curve.FirstParameter();
            const double to = reversed ? curve.FirstParameter() : curve.LastParameter();
            for (int i = 0; i <= pieces_an_edge; ++i)
                corners.push_back(curve.Value(from + (to - from) * i / pieces_an_edge).XYZ());
        }
        for (std::size_t i = 0; i < corners.size(); ++i)
            twice += (corners[i] - corners[0]).Crossed(corners[(i + 1) % corners.size()] - corners[0]);
    }
    return twice.Modulus() / 2;
}

/// OpenCASCADE's integration, too, runs along the boundary and takes it as it is: where a wire of a planar face gapes,
/// its result depends on where the plane's axes lie (by 5e-4 in s1-c5). The polygons close the gaps, and their error,
/// which falls with the square of the pieces, is extrapolated away.
double reference_area(const part::Face& face, const TopoDS_Face& shape, const GProp_GProps& integrated) {
    if (face.kind != part::FaceKind::plane) return integrated.Mass();
    return (4 * polygon_area(shape, 400) - polygon_area(shape, 200)) / 3;
}

TEST_P(OpenSet, HasTheAreasOfAdaptiveIntegration) {
    const auto part = read_part(open_part(GetParam().file));
    for (const part::Face& face : part->faces()) {
        const TopoDS_Face& shape = part::face_shape(*part, face.index);
        GProp_GProps properties;
        BRepGProp::SurfaceProperties(shape, properties, 1e-6);
        const gp_Pnt centre = properties.CentreOfMass().Transformed(part::occurrence(*part, face.body).location);
        const double tolerance = face.kind == part::FaceKind::freeform ? 5e-5 : 1e-5;
        const double area = reference_area(face, shape, properties);
        EXPECT_NEAR(face.area_mm2, area, tolerance * area) << "face " << face.index;
        EXPECT_NEAR(distance(face.centroid, {centre.X(), centre.Y(), centre.Z()}), 0,
                    1e-3 * length(face.box.size()) + 1e-6)
            << "face " << face.index;
    }
}

INSTANTIATE_TEST_SUITE_P(
    Files, OpenSet,
    testing::Values(Expected{"as1-oc-214.stp", 18, 160, "mm"}, Expected{"as1_pe_203.stp", 18, 160, "inch"},
                    Expected{"component8.step", 1, 21, "mm"}, Expected{"conical-surface.step", 1, 5, "inch"},
                    Expected{"cube-in.step", 1, 6, "inch"}, Expected{"cube-mm.step", 1, 6, "mm"},
                    Expected{"dm1-id-214.stp", 7, 48, "inch"}, Expected{"frame.step", 1, 375, "inch"},
                    Expected{"io1-cm-214.stp", 1, 29, "mm"}, Expected{"io1-tu-203.stp", 1, 29, "mm"},
                    Expected{"linkrods.step", 1, 37, "mm"}, Expected{"screw.step", 1, 10, "mm"},
                    Expected{"sg1-c5-214.stp", 1, 16, "mm"}, Expected{"step_boundary_colors.stp", 1, 6, "mm"},
                    Expected{"JST_SH_SM04B-SRSS-TB.STEP", 7, 111, "mm"},
                    Expected{"s1-c5-214/s1-c5-214.stp", 11, 182, "inch"}),
    [](const auto& of) {
        std::string name = std::filesystem::path(of.param.file).stem().string();
        for (char& c : name)
            if (!std::isalnum(static_cast<unsigned char>(c))) c = '_';
        return name;
    });

// The two cubes are one metre by their file's names and coordinates: 1000 mm and 39.37… inch.
TEST(OpenSet, TheCubesInInchAndMillimetreAreOneSize) {
    for (const char* file : {"cube-in.step", "cube-mm.step"}) {
        const auto part = read_part(open_part(file));
        EXPECT_NEAR(part->volume_mm3(), 1e9, 1) << file;
        for (const part::Face& face : part->faces()) {
            EXPECT_EQ(face.kind, part::FaceKind::plane);
            EXPECT_NEAR(face.area_mm2, 1e6, 1e-3);
        }
    }
}

// The NIST/CAx-IF part io1 came from two systems, one with analytic surfaces and one with B-splines.
TEST(OpenSet, OnePartFromTwoSystemsHasOneVolume) {
    const double analytic = read_part(open_part("io1-cm-214.stp"))->volume_mm3();
    const double freeform = read_part(open_part("io1-tu-203.stp"))->volume_mm3();
    EXPECT_NEAR(analytic, freeform, 2e-3 * analytic);
}

TEST(OpenSet, TheConeIsACone) {
    const auto part = read_part(open_part("conical-surface.step"));
    const auto& faces = part->faces();
    const auto cone = std::find_if(faces.begin(), faces.end(),
                                   [](const part::Face& face) { return face.kind == part::FaceKind::cone; });
    ASSERT_NE(cone, faces.end());
    // CONICAL_SURFACE('',#102,0.450944881889764,0.785398163397449) in inch: a truncated cone's area is π(R+r)·slant,
    // ISO 80000-2 / Bronstein 3.3.
    EXPECT_NEAR(cone->radius_mm, 0.450944881889764 * 25.4, 1e-9);
    double small = 1e9, large = 0;
    for (const part::Face& face : faces)
        if (face.kind == part::FaceKind::cylinder) {
            small = std::min(small, face.radius_mm);
            large = std::max(large, face.radius_mm);
        }
    EXPECT_GT(large, small);
}

} // namespace
} // namespace touchmark::test
