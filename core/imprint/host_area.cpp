// SPDX-License-Identifier: MIT
#include "core/imprint/host_area.h"

#include "core/part/vectors.h"
#include "core/surface/boundary.h"
#include "core/surface/round_face.h"

#include <BRep_Tool.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Iterator.hxx>
#include <TopoDS_Vertex.hxx>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace touchmark::imprint {
namespace {

using geometry::Polygon;

constexpr double flat = 1e-3;

bool within(const Polygon& polygon, Vec2 p) {
    return geometry::winding(polygon, p) != 0;
}

bool has(const Box2& box, Vec2 p) {
    return box.low.x <= p.x && p.x <= box.high.x && box.low.y <= p.y && p.y <= box.high.y;
}

double clearance_of(std::span<const TopoDS_Face> faces) {
    double tolerance = 0;
    for (const TopoDS_Face& face : faces) {
        tolerance = std::max(tolerance, BRep_Tool::Tolerance(face));
        for (TopExp_Explorer edge(face, TopAbs_EDGE); edge.More(); edge.Next())
            tolerance = std::max(tolerance, BRep_Tool::Tolerance(TopoDS::Edge(edge.Current())));
    }
    return std::max(5e-3, 2 * tolerance + 2 * flat);
}

/// All holes of all regions, for finding the smallest around a point.
class Holes {
public:
    explicit Holes(std::span<const RegionPolygons> regions) {
        for (std::size_t r = 0; r < regions.size(); ++r)
            for (const Polygon& polygon : regions[r].holes) {
                Box2 box;
                for (const Vec2 p : polygon)
                    box.add(p);
                holes_.push_back({&polygon, box, r, std::abs(geometry::area(polygon))});
            }
    }
    [[nodiscard]] int around(Vec2 p, std::size_t but_not_of) const {
        int best = -1;
        for (std::size_t i = 0; i < holes_.size(); ++i) {
            const Hole& hole = holes_[i];
            if (hole.region == but_not_of || !has(hole.box, p)) continue;
            if (best >= 0 && hole.area >= holes_[static_cast<std::size_t>(best)].area) continue;
            if (within(*hole.polygon, p)) best = static_cast<int>(i);
        }
        return best;
    }

private:
    struct Hole {
        const Polygon* polygon;
        Box2 box;
        std::size_t region;
        double area;
    };
    std::vector<Hole> holes_;
};

} // namespace

std::vector<RegionPolygons> polygons_of(const geometry::Outline& outline) {
    std::vector<RegionPolygons> out;
    for (const geometry::Region& region : outline.regions) {
        RegionPolygons& polygons = out.emplace_back();
        polygons.outer = geometry::flattened(region.outer, flat);
        for (const geometry::Contour& hole : region.holes)
            polygons.holes.push_back(geometry::flattened(hole, flat));
        for (const Vec2 p : polygons.outer)
            polygons.box.add(p);
    }
    return out;
}

HostArea::HostArea(std::vector<Polygon> polygons, std::vector<Hole> wires, double clearance)
    : polygons_(std::move(polygons)), tree_(polygons_), wires_(std::move(wires)), clearance_(clearance) {}

Result<std::vector<Polygon>> HostArea::rolled_out(std::span<const TopoDS_Face> faces, const Site& site) {
    const surface::Unrolling& unrolling = *site.unrolling;
    const auto boundary = surface::round_boundary(faces, gp_Trsf(), unrolling, flat);
    if (!boundary) return std::unexpected(boundary.error());
    const auto room = surface::room_of(*boundary, unrolling, surface::whole_window(unrolling));
    if (!room) return std::unexpected(room.error());
    std::vector<Polygon> polygons = geometry::flattened(*room, flat);
    if (!unrolling.closed || !boundary->turns.empty()) return polygons;
    // An island of a face that runs round: a mark may reach it from either side.
    const surface::Window window = surface::whole_window(unrolling);
    const std::vector<Polygon> once = polygons;
    for (const int turns : {-1, 1})
        for (const Polygon& polygon : once) {
            Polygon moved;
            bool within = true;
            for (const Vec2 p : polygon) {
                const double u = unrolling.parameters(p).x + 2 * std::numbers::pi * turns;
                within = within && u > window.low && u < window.high;
                moved.push_back(unrolling.turned(p, turns));
            }
            if (within) polygons.push_back(std::move(moved));
        }
    return polygons;
}

Result<std::vector<Polygon>> HostArea::laid_flat(const TopoDS_Face& face, const Site& site) {
    const auto loops = surface::parameter_loops(face, site.chart->face().scale);
    if (!loops) return std::unexpected(loops.error());
    auto polygons = site.chart->laid(*loops);
    if (!polygons)
        return fail("surface.degenerate", "The edges of the face cannot be followed about the mark.",
                    "Move the mark, or choose another face.");
    for (Polygon& polygon : *polygons)
        for (Vec2& p : polygon)
            p = site.from_mark(p);
    return *std::move(polygons);
}

Result<std::vector<Polygon>> HostArea::outlined(std::span<const TopoDS_Face> faces, const Site& site) {
    if (site.unrolling) return rolled_out(faces, site);
    const Result<surface::Boundary> boundary = surface::boundary_of(faces, gp_Trsf(), site.frame, flat);
    if (!boundary) return std::unexpected(boundary.error());
    std::vector<Polygon> polygons;
    for (const geometry::Contour& contour : boundary->contours)
        polygons.push_back(geometry::flattened(contour, flat));
    return polygons;
}

Result<HostArea> HostArea::of(std::span<const TopoDS_Face> faces, const Site& site) {
    auto polygons = outlined(faces, site);
    if (!polygons) return std::unexpected(polygons.error());
    return HostArea(*std::move(polygons), {}, clearance_of(faces));
}

Result<HostArea> HostArea::of(const TopoDS_Face& face, const Site& site) {
    auto polygons = site.chart ? laid_flat(face, site) : outlined(std::span(&face, 1), site);
    if (!polygons) return std::unexpected(polygons.error());
    const auto places_of = [&](const TopoDS_Shape& wire, const Vec3& p) -> std::vector<Vec2> {
        if (site.chart) {
            const auto uv = surface::parameter_point(wire, face);
            const auto at = uv ? site.chart->at(*uv) : std::nullopt;
            return at && site.chart->holds(*at) ? std::vector{site.from_mark(*at)} : std::vector<Vec2>();
        }
        if (!site.unrolling) return {site.frame.to_plane(p)};
        const Vec2 at = site.unrolling->at(site.unrolling->parameters_near(p));
        if (!site.unrolling->closed) return {at};
        return {at, site.unrolling->turned(at, 1), site.unrolling->turned(at, -1)};
    };
    std::vector<Hole> wires;
    for (TopoDS_Iterator wire(face); wire.More(); wire.Next()) {
        TopExp_Explorer vertex(wire.Value(), TopAbs_VERTEX);
        if (wire.Value().ShapeType() != TopAbs_WIRE || !vertex.More()) continue;
        const gp_Pnt at = BRep_Tool::Pnt(TopoDS::Vertex(vertex.Current()));
        wires.push_back({TopoDS::Wire(wire.Value()), places_of(wire.Value(), part::vec(at))});
    }
    return HostArea(*std::move(polygons), std::move(wires), clearance_of(std::span(&face, 1)));
}

bool HostArea::touches(const Polygon& polygon) const {
    for (std::size_t i = 0; i < polygon.size(); ++i) {
        const Vec2 a = polygon[i], b = polygon[(i + 1) % polygon.size()];
        Box2 box{{std::min(a.x, b.x) - clearance_, std::min(a.y, b.y) - clearance_},
                 {std::max(a.x, b.x) + clearance_, std::max(a.y, b.y) + clearance_}};
        const bool clear = tree_.visit(box, [&](const surface::SegmentTree::Edge& edge) {
            if (surface::meeting(a, b, edge.a, edge.b)) return false;
            for (const Vec2 p : {a, b})
                if (distance(surface::nearest_on(edge.a, edge.b, p), p) < clearance_) return false;
            for (const Vec2 p : {edge.a, edge.b})
                if (distance(surface::nearest_on(a, b, p), p) < clearance_) return false;
            return true;
        });
        if (!clear) return true;
    }
    return false;
}

bool HostArea::holds(const RegionPolygons& region) const {
    if (region.outer.empty() || !tree_.inside(region.outer[0]) || touches(region.outer)) return false;
    for (const Polygon& hole : region.holes)
        if (touches(hole)) return false;
    for (const Polygon& own : polygons_) {
        if (own.empty() || !has(region.box, own[0]) || !within(region.outer, own[0])) continue;
        if (std::none_of(region.holes.begin(), region.holes.end(), [&](const Polygon& h) { return within(h, own[0]); }))
            return false;
    }
    return true;
}

Nesting HostArea::nesting_of(std::span<const RegionPolygons> regions) const {
    Nesting nesting;
    const Holes holes(regions);
    for (std::size_t i = 0; i < regions.size(); ++i)
        nesting.region_in.push_back(holes.around(regions[i].outer[0], i));
    for (const Hole& wire : wires_)
        for (const Vec2 at : wire.at)
            if (const int in = holes.around(at, regions.size()); in >= 0) {
                nesting.inner_wires.push_back({wire.wire, in});
                break;
            }
    return nesting;
}

} // namespace touchmark::imprint
