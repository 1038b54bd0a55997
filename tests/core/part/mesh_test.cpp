// SPDX-License-Identifier: MIT

#include "tests/core/part/made_parts.h"
#include "tests/support/open_parts.h"
#include "tests/support/reader.h"

#include <BRepAlgoAPI_Cut.hxx>
#include <BRepBuilderAPI_Transform.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRepPrimAPI_MakeSphere.hxx>
#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <TopoDS_Compound.hxx>
#include <gtest/gtest.h>

#include <chrono>
#include <map>
#include <thread>

namespace touchmark::test {
namespace {

using Meshes = std::vector<std::shared_ptr<const part::FaceMesh>>;

Vec3 vec(const std::array<float, 3>& p) {
    return {p[0], p[1], p[2]};
}

Meshes meshed(const part::Part& part, const part::Deflection& deflection = {}) {
    auto meshes = part::tessellate(part, deflection, Progress());
    if (!meshes) throw std::runtime_error(meshes.error().message);
    return *meshes;
}

double volume_of(const Meshes& meshes) {
    double volume = 0;
    for (const auto& mesh : meshes)
        for (const auto& t : mesh->triangles)
            volume += dot(vec(mesh->points[t[0]]), cross(vec(mesh->points[t[1]]), vec(mesh->points[t[2]]))) / 6;
    return volume;
}

/// Triangles must turn counter-clockwise about normals that point out of the material. Where three corners lie on one
/// line of a narrow ring their triangle leans far from the surface though it stays within the deflection; such
/// triangles must be few and small.
void expect_outward(const Meshes& meshes) {
    for (std::size_t f = 0; f < meshes.size(); ++f) {
        const part::FaceMesh& mesh = *meshes[f];
        ASSERT_EQ(mesh.points.size(), mesh.normals.size());
        for (const auto& n : mesh.normals)
            EXPECT_NEAR(length(vec(n)), 1, 1e-5);
        double area = 0, leaning = 0;
        for (const auto& t : mesh.triangles) {
            const Vec3 a = vec(mesh.points[t[0]]), b = vec(mesh.points[t[1]]), c = vec(mesh.points[t[2]]);
            const Vec3 turn = cross(b - a, c - a);
            const double longest = std::max({length(b - a), length(c - b), length(a - c)});
            area += length(turn);
            if (length(turn) < 1e-4 * longest * longest) continue; // a sliver has no direction in single precision
            double upright = 1;
            for (const auto corner : t)
                upright = std::min(upright, dot(normalised(turn), vec(mesh.normals[corner])));
            EXPECT_GT(upright, 0) << "face " << f;
            if (upright < 0.5) leaning += length(turn);
        }
        EXPECT_LT(leaning, 0.02 * area) << "face " << f;
    }
}

/// Each edge of each triangle must have its opposite, across faces too.
bool is_closed(const Meshes& meshes) {
    std::map<std::pair<std::array<float, 3>, std::array<float, 3>>, int> balance;
    for (const auto& mesh : meshes)
        for (const auto& t : mesh->triangles)
            for (int i = 0; i < 3; ++i) {
                const auto &a = mesh->points[t[static_cast<std::size_t>(i)]],
                           &b = mesh->points[t[static_cast<std::size_t>((i + 1) % 3)]];
                if (a < b)
                    ++balance[{a, b}];
                else
                    --balance[{b, a}];
            }
    return std::all_of(balance.begin(), balance.end(), [](const auto& edge) { return edge.second == 0; });
}

TEST(Mesh, ABoxIsTwelveTrianglesWithItsEdges) {
    const auto part = made_part(BRepPrimAPI_MakeBox(10, 20, 30).Shape());
    const Meshes meshes = meshed(*part);
    ASSERT_EQ(meshes.size(), 6u);
    for (const auto& mesh : meshes) {
        EXPECT_EQ(mesh->triangles.size(), 2u);
        EXPECT_EQ(mesh->edges.size(), 4u);
        for (const auto& edge : mesh->edges)
            EXPECT_EQ(edge.size(), 2u);
    }
    EXPECT_NEAR(volume_of(meshes), 6000, 1e-3);
    EXPECT_TRUE(is_closed(meshes));
    expect_outward(meshes);
}

TEST(Mesh, StaysWithinTheDeflection) {
    const auto part = made_part(BRepPrimAPI_MakeSphere(50).Shape());
    for (const double linear : {0.5, 0.05}) {
        const Meshes meshes = meshed(*part, {Mm(linear), Degrees(45)});
        for (const auto& t : meshes[0]->triangles) {
            const Vec3 middle =
                (vec(meshes[0]->points[t[0]]) + vec(meshes[0]->points[t[1]]) + vec(meshes[0]->points[t[2]])) *
                (1.0 / 3);
            EXPECT_NEAR(length(middle), 50, 2 * linear);
        }
        for (const auto& n : meshes[0]->normals)
            EXPECT_NEAR(length(vec(n)), 1, 1e-5);
    }
}

TEST(Mesh, NormalsAreTheSurfacesNotTheTriangles) {
    const auto part = made_part(BRepPrimAPI_MakeSphere(50).Shape());
    const part::FaceMesh mesh = *meshed(*part, {Mm(1), Degrees(30)})[0];
    for (std::size_t i = 0; i < mesh.points.size(); ++i) {
        const Vec3 p = vec(mesh.points[i]);
        if (std::abs(p.z) > 49.9) continue; // at the poles the mean of the triangles stands in
        EXPECT_NEAR(distance(vec(mesh.normals[i]), normalised(p)), 0, 1e-5);
    }
}

TEST(Mesh, SeamsAndCollapsedEdgesAreNotDrawn) {
    const auto cylinder = made_part(BRepPrimAPI_MakeCylinder(5, 10).Shape());
    for (const part::Face& face : cylinder->faces()) {
        const std::size_t edges = meshed(*cylinder)[static_cast<std::size_t>(face.index)]->edges.size();
        EXPECT_EQ(edges, face.kind == part::FaceKind::cylinder ? 2u : 1u);
    }
    EXPECT_TRUE(meshed(*made_part(BRepPrimAPI_MakeSphere(5).Shape()))[0]->edges.empty());
}

TEST(Mesh, PlacedTurnedAndMirroredBodiesLookOutward) {
    const TopoDS_Shape shape =
        BRepAlgoAPI_Cut(BRepPrimAPI_MakeBox(10, 20, 30).Shape(), BRepPrimAPI_MakeCylinder(4, 40).Shape()).Shape();
    gp_Trsf turn, mirror;
    turn.SetRotation(gp_Ax1(gp_Pnt(1, 2, 3), gp_Dir(1, 1, 0.3)), 1.2);
    mirror.SetMirror(gp_Ax2(gp_Pnt(40, 0, 0), gp::DX()));
    const double volume = made_part(shape)->volume_mm3();
    for (const auto& part :
         {made_part(shape), made_part(shape, TopLoc_Location(turn)), made_part(shape.Moved(TopLoc_Location(turn))),
          made_part(BRepBuilderAPI_Transform(shape, mirror, true).Shape())}) {
        const Meshes meshes = meshed(*part);
        expect_outward(meshes);
        EXPECT_NEAR(volume_of(meshes), volume, 5e-3 * volume);
    }
}

TEST(Mesh, TheOpenSetLooksOutward) {
    for (const char* file :
         {"as1-oc-214.stp", "conical-surface.step", "io1-cm-214.stp", "screw.step", "step_boundary_colors.stp"})
        expect_outward(meshed(*read_part(open_part(file))));
}

TEST(Mesh, OfOneBodyIsClosedAcrossItsFaces) {
    for (const char* file : {"io1-cm-214.stp", "conical-surface.step", "component8.step"})
        EXPECT_TRUE(is_closed(meshed(*read_part(open_part(file))))) << file;
}

TEST(Mesh, DoesNotTouchThePart) {
    const auto part = made_part(BRepPrimAPI_MakeSphere(5).Shape());
    (void)meshed(*part);
    TopLoc_Location location;
    EXPECT_TRUE(BRep_Tool::Triangulation(part::face_shape(*part, 0), location).IsNull());
}

TEST(Mesh, IsMadeOnceAndSharedWithPartsThatShareTheFace) {
    const TopoDS_Shape box = BRepPrimAPI_MakeBox(10, 20, 30).Shape();
    const auto part = made_part(box);
    const Meshes first = meshed(*part, {Mm(0.1), Degrees(15)});
    EXPECT_EQ(meshed(*part, {Mm(0.1), Degrees(15)}), first);
    EXPECT_EQ(meshed(*made_part(box), {Mm(0.1), Degrees(15)}), first);
    EXPECT_NE(meshed(*part, {Mm(0.2), Degrees(15)}), first);
}

TEST(Mesh, SeveralThreadsMayAskAtOnce) {
    const auto part = read_part(open_part("io1-cm-214.stp"));
    const double volume = part->volume_mm3();
    std::vector<std::thread> threads;
    std::vector<double> volumes(4);
    for (std::size_t i = 0; i < volumes.size(); ++i)
        threads.emplace_back([&, i] {
            volumes[i] = volume_of(meshed(*part, {Mm(0.05 + 0.01 * static_cast<double>(i % 2)), Degrees(15)}));
        });
    for (std::thread& thread : threads)
        thread.join();
    for (const double meshed_volume : volumes)
        EXPECT_NEAR(meshed_volume, volume, 5e-3 * volume);
}

TEST(Mesh, CanBeCancelled) {
    const auto part = read_part(open_part("frame.step"));
    Progress cancelled;
    cancelled.cancel();
    const auto meshes = part::tessellate(*part, {Mm(0.013), Degrees(5)}, cancelled);
    ASSERT_FALSE(meshes);
    EXPECT_EQ(meshes.error().code, cancelled_code);

    Progress later;
    std::thread person([&] {
        std::this_thread::sleep_for(std::chrono::milliseconds(30));
        later.cancel();
    });
    const auto begin = std::chrono::steady_clock::now();
    const auto stopped = part::tessellate(*part, {Mm(0.011), Degrees(1)}, later);
    person.join();
    EXPECT_FALSE(stopped);
    EXPECT_LT(std::chrono::steady_clock::now() - begin, std::chrono::seconds(10));
}

TEST(Mesh, APlateOfManyHolesIsQuick) {
    // Engraved text leaves hundreds of inner wires; a grid of holes stands for it.
    BRep_Builder builder;
    TopoDS_Shape plate = BRepPrimAPI_MakeBox(100, 100, 5).Shape();
    TopoDS_Compound drills;
    builder.MakeCompound(drills);
    for (int i = 0; i < 8; ++i)
        for (int k = 0; k < 8; ++k)
            builder.Add(
                drills,
                BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(10 + 11 * i, 10 + 11 * k, -1), gp::DZ()), 3, 10).Shape());
    const auto part = made_part(BRepAlgoAPI_Cut(plate, drills).Shape());
    ASSERT_EQ(part->faces().size(), 70u);
    const Meshes meshes = meshed(*part);
    expect_outward(meshes);
    EXPECT_TRUE(is_closed(meshes));
    EXPECT_NEAR(volume_of(meshes), part->volume_mm3(), 2e-3 * part->volume_mm3());
}

} // namespace
} // namespace touchmark::test
