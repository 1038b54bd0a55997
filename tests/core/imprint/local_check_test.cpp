// SPDX-License-Identifier: MIT

// The check of the changed faces against OpenCASCADE's check of the whole solid, and against results broken on purpose.

#include "core/imprint/local_check.h"
#include "core/imprint/round_walls.h"
#include "core/imprint/shell_edit.h"
#include "core/part/vectors.h"
#include "tests/core/imprint/round_trip.h"
#include "tests/core/imprint/shapes.h"

#include <BRepCheck_Analyzer.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeCone.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <Geom2d_Line.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedMapOfOrientedShape.hxx>
#include <TopoDS.hxx>
#include <gtest/gtest.h>

#include <random>

namespace touchmark::test {
namespace {

using imprint::fault_of;

/// 1,000 in a long run.
int how_many(int quick) {
    return long_run() ? 1000 : quick;
}

TopTools_IndexedMapOfOrientedShape faces_of(const TopoDS_Shape& shape) {
    TopTools_IndexedMapOfOrientedShape faces;
    for (TopExp_Explorer face(shape, TopAbs_FACE); face.More(); face.Next())
        faces.Add(face.Current());
    return faces;
}

struct Changed {
    std::vector<TopoDS_Face> fresh, old;
};
Changed changed_faces(const TopoDS_Shape& before, const TopoDS_Shape& after) {
    const auto was = faces_of(before), is = faces_of(after);
    Changed out;
    for (int i = 1; i <= is.Extent(); ++i)
        if (!was.Contains(is(i))) out.fresh.push_back(TopoDS::Face(is(i)));
    for (int i = 1; i <= was.Extent(); ++i)
        if (!is.Contains(was(i))) out.old.push_back(TopoDS::Face(was(i)));
    return out;
}

/// Walls and floors put in without any of the checks.
struct Unchecked {
    TopoDS_Shape before, after;
    std::vector<TopoDS_Face> fresh;
    TopoDS_Face old;
};
Unchecked cut_unchecked(const TopoDS_Shape& solid, const std::vector<geometry::Region>& regions, double depth) {
    Unchecked out;
    out.before = solid;
    const part::PartPtr part = part_of(solid);
    out.old = part::face_shape(*part, farthest_flat_face(*part, {0, 0, 1}));
    const Frame frame{{0, 0, part->box().high.z}, {1, 0, 0}, {0, 1, 0}, {0, 0, 1}};
    const imprint::HostSurface host = imprint::host_surface(out.old, frame);
    const imprint::Walls walls = imprint::build_walls(frame, host, regions, -depth);
    imprint::Nesting nesting;
    nesting.region_in.assign(regions.size(), -1);
    const imprint::OpenedFace opened = imprint::open_face(out.old, host, walls, nesting);
    out.after = imprint::swap_face(solid, out.old, opened.host, {&opened.islands, &walls.walls, &walls.floors});
    out.fresh = {opened.host};
    for (const auto* faces : {&opened.islands, &walls.walls, &walls.floors})
        out.fresh.insert(out.fresh.end(), faces->begin(), faces->end());
    return out;
}

std::string verdict(const Unchecked& made, const imprint::Material& material = {}) {
    return std::string(fault_of({made.fresh, std::span(&made.old, 1), true}, material));
}

imprint::TriangleTree mesh_of(const TopoDS_Shape& solid) {
    const part::PartPtr part = part_of(solid);
    std::vector<imprint::Triangle> triangles;
    const auto meshes = part::tessellate(*part, {}, Progress()).value();
    for (const auto& mesh : meshes)
        for (const auto& [a, b, c] : mesh->triangles) {
            const auto corner = [&](std::uint32_t i) {
                return Vec3{mesh->points[i][0], mesh->points[i][1], mesh->points[i][2]};
            };
            triangles.push_back({{corner(a), corner(b), corner(c)}, 0});
        }
    return imprint::TriangleTree(std::move(triangles));
}

const TopoDS_Shape& block() {
    static const TopoDS_Shape shape = rounded_box(60, 40, 20, 2);
    return shape;
}

TEST(LocalCheck, PassesWhatIsRight) {
    EXPECT_EQ(verdict(cut_unchecked(block(), lettering(5, 50, 30).regions, 0.5)), "");
}

TEST(LocalCheck, SeesAHoleInTheShell) {
    Unchecked made = cut_unchecked(block(), {ring({0, 0}, 6, 4)}, 0.5);
    made.fresh.pop_back();
    EXPECT_EQ(verdict(made), "the changed surface would not be closed");
}

TEST(LocalCheck, SeesAFaceTurnedRound) {
    const Unchecked right = cut_unchecked(block(), {ring({0, 0}, 6, 4)}, 0.5);
    for (std::size_t i = 0; i < right.fresh.size(); ++i) {
        Unchecked made = right;
        made.fresh[i].Reverse();
        EXPECT_NE(verdict(made), "") << i;
    }
}

TEST(LocalCheck, SeesAWrongCurveOnAFace) {
    const Unchecked made = cut_unchecked(block(), {{rectangle({-3, -1}, {3, 1}), {}}}, 0.5);
    ASSERT_EQ(verdict(made), "");
    const TopoDS_Face& wall = made.fresh[1];
    const TopoDS_Edge edge = TopoDS::Edge(TopExp_Explorer(wall, TopAbs_EDGE).Current());
    TopLoc_Location location;
    const Handle(Geom_Surface) surface = BRep_Tool::Surface(wall, location);
    BRep_Builder().UpdateEdge(edge, new Geom2d_Line(gp_Pnt2d(0.1, 0.1), gp_Dir2d(1, 0)), surface, location, 1e-7);
    EXPECT_EQ(verdict(made), "an edge does not lie on its face");
    EXPECT_FALSE(BRepCheck_Analyzer(made.after).IsValid());
}

TEST(LocalCheck, SeesContoursThatOverlap) {
    const Unchecked made =
        cut_unchecked(block(), {{rectangle({-3, -1}, {3, 1}), {}}, {rectangle({-1, -3}, {1, 3}), {}}}, 0.5);
    EXPECT_EQ(verdict(made), "contours of a face meet");
    EXPECT_FALSE(BRepCheck_Analyzer(made.after).IsValid());
    // One within the other, which is no counter of it, crosses nothing.
    EXPECT_NE(
        verdict(cut_unchecked(block(), {{rectangle({-3, -3}, {3, 3}), {}}, {rectangle({-1, -1}, {1, 1}), {}}}, 0.5)),
        "");
}

TEST(LocalCheck, SeesACutThatComesOutOnTheOtherSide) {
    const TopoDS_Shape sheet = BRepPrimAPI_MakeBox(gp_Pnt(-30, -20, 0), 60, 40, 2).Shape();
    const imprint::TriangleTree mesh = mesh_of(sheet);
    const imprint::Material material(mesh, {}, 0.01);
    EXPECT_EQ(verdict(cut_unchecked(sheet, {ring({0, 0}, 6, 4)}, 1.5), material), "");
    const Unchecked made = cut_unchecked(sheet, {ring({0, 0}, 6, 4)}, 3);
    EXPECT_EQ(verdict(made, material), "the mark comes out of the material");
    EXPECT_TRUE(BRepCheck_Analyzer(made.after).IsValid()) << "the full check would do";
}

TEST(LocalCheck, SeesALidWithoutThickness) {
    // The pocket is there, and the face over it as well, once from either side.
    Unchecked made = cut_unchecked(block(), {{rectangle({-3, -1}, {3, 1}), {}}}, 0.5);
    const imprint::HostSurface host = imprint::host_surface(made.old, {{0, 0, 20}, {1, 0, 0}, {0, 1, 0}, {0, 0, 1}});
    TopoDS_Face lid = imprint::face_on(host, 1e-7, made.old.Orientation());
    TopoDS_Wire rim;
    for (TopExp_Explorer wire(made.fresh[0], TopAbs_WIRE); wire.More(); wire.Next())
        rim = TopoDS::Wire(wire.Current());
    BRep_Builder().Add(lid, rim.Reversed());
    made.fresh.push_back(lid);
    made.fresh.push_back(TopoDS::Face(lid.Reversed()));
    EXPECT_EQ(verdict(made), "the changed surface would not be closed");
}

TEST(LocalCheck, SeesASolidTurnedInsideOut) {
    Unchecked made = cut_unchecked(block(), {ring({0, 0}, 6, 4)}, 0.5);
    for (TopoDS_Face& face : made.fresh)
        face.Reverse();
    EXPECT_NE(verdict(made), "");
    EXPECT_TRUE(BRepCheck_Analyzer(made.after.Reversed()).IsValid()) << "the full check would do";
}

geometry::Contour blob(std::mt19937& random, Vec2 centre, double size) {
    std::uniform_real_distribution<double> off(0.2, 1), place(-1, 1);
    std::vector<Vec2> corners;
    const int count = std::uniform_int_distribution<int>(3, 7)(random);
    const bool wild = std::uniform_int_distribution<int>(0, 3)(random) == 0;
    for (int i = 0; i < count; ++i) {
        const double angle = 6.283185307 * i / count;
        corners.push_back(wild ? centre + Vec2{place(random), place(random)} * size
                               : centre + Vec2{std::cos(angle), std::sin(angle)} * (size * off(random)));
    }
    geometry::Contour contour;
    for (int i = 0; i < count; ++i) {
        const Vec2 a = corners[static_cast<std::size_t>(i)], b = corners[static_cast<std::size_t>((i + 1) % count)];
        const Vec2 c = (a + b) * 0.5 + Vec2{place(random), place(random)} * (size * 0.2);
        contour.segments.push_back(i % 2 ? geometry::Segment::line(a, b) : geometry::Segment::quadratic(a, c, b));
    }
    return geometry::area(contour) < 0 ? geometry::reversed(contour) : contour;
}

/// Contours as they come, many of which cross themselves or each other: where the full check finds a fault, so does
/// ours.
TEST(LocalCheck, NeverPassesWhatTheFullCheckFails) {
    std::mt19937 random(11);
    std::uniform_real_distribution<double> x(-18, 18), y(-10, 10), size(0.5, 4);
    int faulty = 0, sound = 0, strict = 0;
    for (int i = 0, count = how_many(150); i < count; ++i) {
        std::vector<geometry::Region> regions;
        for (int k = std::uniform_int_distribution<int>(1, 3)(random); k > 0; --k)
            regions.push_back({blob(random, {x(random), y(random)}, size(random)), {}});
        const Unchecked made = cut_unchecked(block(), regions, 0.5);
        const bool full = BRepCheck_Analyzer(made.after).IsValid(), ours = verdict(made).empty();
        EXPECT_TRUE(full || !ours) << "case " << i;
        ++(full ? sound : faulty);
        strict += full && !ours;
    }
    EXPECT_GT(faulty, 10);
    EXPECT_GT(sound, 10);
    EXPECT_LE(strict, sound / 20) << "it must not refuse what is right";
    RecordProperty("faulty", faulty);
    RecordProperty("sound", sound);
    RecordProperty("stricter", strict);
}

/// Marks of every mode on flat, cylindrical and conical faces.
TEST(LocalCheck, PassesWhatTheFullCheckPasses) {
    std::mt19937 random(12);
    const std::vector<part::PartPtr> parts{part_of(block()), part_of(BRepPrimAPI_MakeCylinder(15, 40).Shape()),
                                           part_of(BRepPrimAPI_MakeCone(18, 12, 40).Shape())};
    int made = 0;
    for (int i = 0, count = how_many(45); i < count; ++i) {
        const part::PartPtr& part = parts[static_cast<std::size_t>(i) % parts.size()];
        int face = -1;
        for (const part::Face& candidate : part->faces())
            if (face < 0 || candidate.area_mm2 > part->faces()[static_cast<std::size_t>(face)].area_mm2)
                face = candidate.index;
        std::uniform_real_distribution<double> x(-8, 8), y(-5, 5), turn(-180, 180);
        const Mode mode = modes[static_cast<std::size_t>(i / 3) % modes.size()];
        if (mode == Mode::through) continue;
        imprint::Footprint mark{"mark",
                                *surface::map_face(*part, face),
                                moved(lettering(1 + i % 7, 12, 6), {x(random), y(random)}, turn(random)),
                                mode,
                                Mm(0.5),
                                {}};
        const auto result = imprint::imprint(part, std::span(&mark, 1), {}, Progress());
        ASSERT_TRUE(result) << result.error().message;
        if (result->marks[0].route != imprint::Route::direct) continue;
        const TopoDS_Shape &before = part::occurrence(*part, 0).shape,
                           &after = part::occurrence(*result->part, 0).shape;
        const Changed changed = changed_faces(before, after);
        EXPECT_EQ(fault_of({changed.fresh, changed.old, mode != Mode::raise}, {}), "") << "case " << i;
        EXPECT_TRUE(BRepCheck_Analyzer(after).IsValid()) << "case " << i;
        ++made;
    }
    EXPECT_GT(made, 30);
    RecordProperty("made", made);
}

} // namespace
} // namespace touchmark::test
