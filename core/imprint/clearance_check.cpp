// SPDX-License-Identifier: MIT
#include "core/imprint/clearance_check.h"

#include "core/base/number_text.h"
#include "core/imprint/extent.h"
#include "core/imprint/flat_floor.h"
#include "core/imprint/general.h"
#include "core/imprint/nearest_wall.h"
#include "core/part/shape.h"
#include "core/part/vectors.h"
#include "core/surface/margin.h"

#include <BRepBuilderAPI_Copy.hxx>
#include <BRepMesh_IncrementalMesh.hxx>
#include <BRep_Tool.hxx>
#include <Poly_Triangulation.hxx>
#include <TopoDS.hxx>

#include <string>

namespace touchmark::imprint {
namespace {

constexpr double crossing = 1e-2; // mm of margin under which a region may be made by the general cut
constexpr double gap = 1e-2;      // mm that a raised mark must keep under a roof

/// The regions that lie inside the face, and those that cross its edge.
struct Split {
    Footprint inside, over_edge;
};

/// Whether the box around the mark is clear of the face's edges: a look that spares most marks the exact margin.
bool boxed_in(const Footprint& mark) {
    const Box2 box = geometry::bounds(mark.outline).widened(crossing);
    constexpr double flat = crossing / 10; // mm
    int turns = 0;
    for (const geometry::Polygon& polygon : geometry::flattened(mark.map->room(), flat)) {
        turns += geometry::winding(polygon, box.centre());
        for (std::size_t i = 0; i < polygon.size(); ++i) {
            Box2 side;
            side.add(polygon[i]);
            side.add(polygon[(i + 1) % polygon.size()]);
            if (side.meets(box)) return false;
        }
    }
    return turns != 0;
}

Split split(const Footprint& mark) {
    Split out{mark, mark};
    out.over_edge.outline = {};
    if (boxed_in(mark)) return out;
    if (surface::margin(*mark.map, mark.outline).distance > crossing) return out;
    out.inside.outline = {};
    for (const geometry::Region& region : mark.outline.regions) {
        const bool in = surface::margin(*mark.map, geometry::Outline{{region}}).distance > crossing;
        (in ? out.inside : out.over_edge).outline.regions.push_back(region);
    }
    return out;
}

std::unexpected<Error> pokes_through(const Footprint& mark, double thickness) {
    if (thickness <= 0 && has_flat_floor(mark))
        return fail("imprint.pokes_through",
                    "\"" + mark.name + "\" would break through where its flat floor lies deepest under the face.",
                    "Make it shallower or narrower, or let its floor follow the face.");
    if (thickness <= 0)
        return fail("imprint.pokes_through",
                    "\"" + mark.name + "\" reaches " + text_of(Mm(-extent_of(mark).low)) +
                        " deep and would break through: the wall behind it is " +
                        text_of(Mm(std::max(0.0, thickness - extent_of(mark).low))) + " thick.",
                    "Make it shallower or move it to where there is more material.");
    return fail("imprint.pokes_through",
                "\"" + mark.name + "\" would leave only " + text_of(Mm(thickness)) + " of material behind it.",
                "Make it shallower or move it to where there is more material.");
}

/// One face as triangles that are off it by no more than `tolerance`.
TriangleTree finely_meshed(const part::Part& part, int face, double tolerance) {
    const TopoDS_Shape copy = BRepBuilderAPI_Copy(part::face_shape(part, face), Standard_True, Standard_False).Shape();
    BRepMesh_IncrementalMesh(copy, tolerance, Standard_False, 0.1, Standard_False);
    TopLoc_Location location;
    const Handle(Poly_Triangulation) mesh = BRep_Tool::Triangulation(TopoDS::Face(copy), location);
    std::vector<Triangle> triangles;
    if (mesh.IsNull()) return TriangleTree({});
    const int body = part.faces()[static_cast<std::size_t>(face)].body;
    const gp_Trsf placing = part::occurrence(part, body).location.Transformation() * location.Transformation();
    for (int i = 1; i <= mesh->NbTriangles(); ++i) {
        int a, b, c;
        mesh->Triangle(i).Get(a, b, c);
        const auto corner = [&](int node) { return part::vec(mesh->Node(node).Transformed(placing)); };
        triangles.push_back({{corner(a), corner(b), corner(c)}, face});
    }
    return TriangleTree(std::move(triangles));
}

/// The least wall behind a cut, where it may be less than `wanted`. What the mesh cannot tell for sure, because the
/// other face is curved, is looked at again on a fine mesh of that face.
std::optional<double> thin_wall(const part::Part& part, const Footprint& mark, const Obstacles& obstacles,
                                double wanted, std::vector<int> seen = {}) {
    constexpr double fine = 0.002;
    while (const auto wall = obstacles.wall_behind(mark, seen, wanted + obstacles.mesh_tolerance())) {
        if (wall->thickness >= wanted + obstacles.mesh_tolerance()) return std::nullopt;
        const bool flat =
            wall->face >= 0 && part.faces()[static_cast<std::size_t>(wall->face)].kind == part::FaceKind::plane;
        if (flat) {
            if (wall->thickness < wanted) return wall->thickness;
        } else {
            const auto exact = nearest_wall(mark, fine, finely_meshed(part, wall->face, fine), wanted + fine);
            if (exact && exact->thickness < wanted) return exact->thickness;
        }
        seen.push_back(wall->face);
    }
    return std::nullopt;
}

Status check_cut(const part::Part& part, const Footprint& mark, const Obstacles& obstacles, const Options& options) {
    if (const auto thickness = thin_wall(part, mark, obstacles, options.least_wall.value))
        return pokes_through(mark, *thickness);
    if (mark.mode == Mode::hidden) return {};
    const Split parts = split(mark);
    if (parts.over_edge.outline.empty()) return {};
    // The tool reaches over the surface and would scratch what stands there.
    double over = 2 * overshoot;
    if (has_flat_floor(mark)) {
        const FlatFloor floor = flat_floor(mark);
        over += floor.highest - floor.lowest;
    }
    if (const auto roof = obstacles.room_above_in_body(parts.over_edge); roof && *roof < over)
        return fail("imprint.blocked", "\"" + mark.name + "\" runs into material that stands on its face.",
                    "Move the mark away from it.");
    return {};
}

/// Beside the opening; what it comes out of is no obstacle.
Status check_opening(const part::Part& part, const Footprint& mark, const FarSide& far, const Obstacles& obstacles,
                     const Options& options) {
    Footprint down = mark;
    down.mode = Mode::engrave;
    down.floor = Floor::offset;
    down.draft = Degrees(0);
    down.floor_rounding = Mm(0);
    down.depth = Mm(far.farthest);
    if (const auto thickness = thin_wall(part, down, obstacles, options.least_wall.value, far.faces))
        return fail("imprint.blocked",
                    "On its way through, \"" + mark.name + "\" would leave only " +
                        text_of(Mm(std::max(*thickness, 0.0))) + " to another face.",
                    "Move the mark away from it.");
    return {};
}

Status check_raise(const Footprint& mark, const Obstacles& obstacles) {
    const Split parts = split(mark);
    if (parts.inside.outline.empty()) return {};
    const auto roof = obstacles.room_above_in_body(parts.inside);
    if (roof && *roof < mark.depth.value + gap)
        return fail("imprint.blocked",
                    "\"" + mark.name + "\" is " + text_of(mark.depth) + " high, but another face of the part is " +
                        text_of(Mm(*roof)) + " above it.",
                    "Make it lower or move it.");
    return {};
}

/// What it takes of the part or adds to it.
TriangleTree tree_of(const Footprint& mark) {
    const part::FaceMesh mesh = relief(takes_away(mark.mode) ? as_cut(mark) : mark);
    std::vector<Triangle> triangles;
    const auto corner = [&](std::uint32_t i) {
        const auto& p = mesh.points[i];
        return Vec3{p[0], p[1], p[2]};
    };
    for (const auto& [a, b, c] : mesh.triangles)
        triangles.push_back({{corner(a), corner(b), corner(c)}, -1});
    return TriangleTree(std::move(triangles));
}

bool near_each_other(const Footprint& a, const Footprint& b) {
    const auto box_of = [](const Footprint& mark) {
        const double reach = extent_of(mark).reach();
        Box3 box;
        for (const geometry::Polygon& polygon : geometry::flattened(mark.outline, 0.05))
            for (const Vec2 p : polygon) {
                box.add(mark.map->point(p));
                box.add(mark.map->point(p) + mark.map->normal(p) * reach);
            }
        return box;
    };
    constexpr double hair = 1; // mm, more than any least wall that is asked for here
    const Box3 p = box_of(a), q = box_of(b);
    return p.low.x <= q.high.x + hair && q.low.x <= p.high.x + hair && p.low.y <= q.high.y + hair &&
           q.low.y <= p.high.y + hair && p.low.z <= q.high.z + hair && q.low.z <= p.high.z + hair;
}

/// Marks on different faces of a body that meet inside it, near a common edge.
Status check_pairs(const part::Part& part, std::span<const Footprint> marks, const Options& options) {
    const auto body_of = [&](const Footprint& mark) {
        return part.faces()[static_cast<std::size_t>(mark.map->face())].body;
    };
    for (std::size_t i = 0; i < marks.size(); ++i)
        for (std::size_t j = 0; j < marks.size(); ++j) {
            const Footprint &a = marks[i], &b = marks[j];
            if (surface::share_a_face(*a.map, *b.map) || body_of(a) != body_of(b)) continue;
            if (takes_away(a.mode) != takes_away(b.mode) || a.mode == Mode::through || b.mode == Mode::through)
                continue;
            if (!near_each_other(a, b)) continue;
            bool meet = false;
            if (takes_away(a.mode)) {
                const auto wall = nearest_wall(a, 0, tree_of(b), options.least_wall.value);
                meet = wall && wall->thickness < options.least_wall.value;
            } else {
                meet = lowest_roof(a, tree_of(b), a.depth.value + gap).has_value();
            }
            if (meet)
                return fail("imprint.overlap", "The marks \"" + a.name + "\" and \"" + b.name + "\" meet each other.",
                            "Move one of them away from the edge.");
        }
    return {};
}

} // namespace

Status clear_of_the_rest(const part::Part& part, std::span<const Footprint> marks, const Obstacles& obstacles,
                         std::span<const FarSide> far, const Options& options, const Progress& progress) {
    for (std::size_t i = 0; i < marks.size(); ++i) {
        if (progress.cancelled()) return fail(std::string(cancelled_code), "Cancelled.");
        const Footprint& mark = marks[i];
        const Status good = mark.mode == Mode::through ? check_opening(part, mark, far[i], obstacles, options)
                            : takes_away(mark.mode)    ? check_cut(part, mark, obstacles, options)
                                                       : check_raise(mark, obstacles);
        if (!good) return good;
    }
    return check_pairs(part, marks, options);
}

} // namespace touchmark::imprint
