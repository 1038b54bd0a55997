// SPDX-License-Identifier: MIT
#include "core/imprint/local_check.h"

#include "core/base/parallel.h"
#include "core/imprint/check.h"
#include "core/imprint/ray.h"
#include "core/part/stored_curves.h"
#include "core/part/vectors.h"
#include "core/surface/segment_tree.h"

#include <BRep_Tool.hxx>
#include <Geom2d_Curve.hxx>
#include <Geom_Plane.hxx>
#include <Geom_SurfaceOfLinearExtrusion.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_MapOfShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Iterator.hxx>
#include <TopoDS_Vertex.hxx>
#include <gp_Pln.hxx>

#include <algorithm>
#include <array>
#include <cmath>

namespace touchmark::imprint {
namespace {

using geometry::Polygon;

/// Crossings of a ray, and how near the surface its start is.
class Crossings {
public:
    Crossings(const Vec3& from, const Vec3& way) : ray_{from, way} {}
    [[nodiscard]] static double best() { return 1e299; }
    [[nodiscard]] double bound(const Box3& box) const { return ray_.entry(box); }
    void look(const Triangle& triangle) {
        const auto at = ray_.hit(triangle, 0);
        if (!at || *at < 0) return;
        ++count_;
        nearest_ = std::min(nearest_, *at);
    }
    [[nodiscard]] bool inside() const { return count_ % 2 == 1; }
    [[nodiscard]] double nearest() const { return nearest_; }

private:
    Ray ray_;
    int count_ = 0;
    double nearest_ = 1e300;
};

/// One edge of a wire in the parameters of its face.
struct Side {
    part::StoredCurves stored;
    const TopoDS_TShape* edge = nullptr;
    bool back = false;

    /// On a plane that needs no curve in its parameters the range is that of the curve in space.
    [[nodiscard]] double first() const { return stored.in_parameters ? stored.first_on : stored.first; }
    [[nodiscard]] double last() const { return stored.in_parameters ? stored.last_on : stored.last; }
    [[nodiscard]] bool is_straight() const {
        return stored.in_parameters ? part::exactly<Geom2d_Line>(stored.in_parameters) != nullptr
                                    : part::exactly<Geom_Line>(stored.in_space) != nullptr;
    }
};

class FaceCheck {
public:
    FaceCheck(const TopoDS_Face& face, const TopTools_MapOfShape& known, bool contours)
        : face_(face), known_(known), contours_(contours) {
        surface_ = BRep_Tool::Surface(face, location_);
        plane_ = Handle(Geom_Plane)::DownCast(surface_);
    }

    [[nodiscard]] std::string_view fault() {
        std::vector<Wire> wires;
        for (TopoDS_Iterator item(face_.Oriented(TopAbs_FORWARD)); item.More(); item.Next()) {
            if (item.Value().ShapeType() != TopAbs_WIRE) continue;
            bool fresh = false;
            Wire& wire = wires.emplace_back();
            for (TopoDS_Iterator part(item.Value()); part.More(); part.Next()) {
                const TopoDS_Edge& edge = TopoDS::Edge(part.Value());
                const part::StoredCurves stored(edge, surface_, location_);
                if (!known_.Contains(edge)) {
                    fresh = true;
                    if (const std::string_view fault = fault_of_edge(edge, stored); !fault.empty()) return fault;
                }
                if (contours_) {
                    if (!stored.in_parameters && (plane_.IsNull() || !stored.in_space))
                        return "an edge has no curve on its face";
                    wire.sides.push_back({stored, edge.TShape().get(), edge.Orientation() == TopAbs_REVERSED});
                }
            }
            wire.fresh = fresh;
        }
        if (wires.empty()) return "a face has no boundary";
        return contours_ && std::ranges::any_of(wires, &Wire::fresh) ? fault_of_wires(wires) : "";
    }

private:
    struct Wire {
        std::vector<Side> sides;
        bool fresh = false, closed = false;
        Polygon polygon;
        std::vector<std::size_t> side_of_point;
        double area = 0;
        Box2 box;
    };

    [[nodiscard]] Vec2 parameters(const Side& side, double t) const {
        if (side.stored.in_parameters) {
            const gp_Pnt2d p = part::value_of(*side.stored.in_parameters, t);
            return {p.X(), p.Y()};
        }
        gp_Pnt p = side.stored.point(t);
        if (!location_.IsIdentity()) p.Transform(location_.Transformation().Inverted());
        const gp_Vec off(plane_->Location(), p);
        return {off.Dot(gp_Vec(plane_->Position().XDirection())), off.Dot(gp_Vec(plane_->Position().YDirection()))};
    }

    /// Where the curve in space, the one in the parameters and the ends agree, within the edge's tolerance.
    [[nodiscard]] std::string_view fault_of_edge(const TopoDS_Edge& edge, const part::StoredCurves& stored) const {
        if (stored.degenerated) return {};
        if (!stored.in_space) return "an edge has no curve in space";
        if (!stored.in_parameters && plane_.IsNull()) return "an edge has no curve on its face";
        const double tolerance = stored.tolerance + 1e-9;
        constexpr std::array places{0.29, 0.83};
        for (const double s : places) {
            const gp_Pnt on_curve = stored.point(stored.first + (stored.last - stored.first) * s);
            if (off_the_face(stored, s, on_curve) > tolerance) return "an edge does not lie on its face";
        }
        if (edge.Orientation() == TopAbs_REVERSED) return {}; // its other face has it forward
        TopoDS_Vertex start, end;
        TopExp::Vertices(edge, start, end);
        if (start.IsNull() || end.IsNull() ||
            BRep_Tool::Pnt(start).Distance(stored.point(stored.first)) > BRep_Tool::Tolerance(start) + 1e-9 ||
            BRep_Tool::Pnt(end).Distance(stored.point(stored.last)) > BRep_Tool::Tolerance(end) + 1e-9)
            return "an edge does not end at its vertices";
        return {};
    }
    [[nodiscard]] gp_Pnt point_at(double u, double v) const {
        if (const auto* extrusion = part::exactly<Geom_SurfaceOfLinearExtrusion>(surface_.get()))
            return part::value_of(*extrusion->BasisCurve(), u).Translated(gp_Vec(extrusion->Direction()) * v);
        gp_Pnt p;
        surface_->D0(u, v, p);
        return p;
    }
    /// How far `on_curve` is from where the face has that part of the edge.
    [[nodiscard]] double off_the_face(const part::StoredCurves& stored, double part, const gp_Pnt& on_curve) const {
        gp_Pnt on_face;
        if (stored.in_parameters) {
            const gp_Pnt2d at =
                part::value_of(*stored.in_parameters, stored.first_on + (stored.last_on - stored.first_on) * part);
            on_face = point_at(at.X(), at.Y());
            if (!location_.IsIdentity()) on_face.Transform(location_.Transformation());
            return on_face.Distance(on_curve);
        }
        on_face = location_.IsIdentity() ? on_curve : on_curve.Transformed(location_.Transformation().Inverted());
        return plane_->Pln().Distance(on_face);
    }

    [[nodiscard]] Polygon points_of(const Side& side, int steps) const {
        Polygon points;
        for (int i = 0; i < steps; ++i) {
            const double s = static_cast<double>(side.back ? steps - i : i) / steps;
            points.push_back(parameters(side, side.first() + (side.last() - side.first()) * s));
        }
        return points;
    }
    [[nodiscard]] static int steps_of(const Side& side) {
        constexpr int curved = 32;
        return side.is_straight() ? 1 : curved;
    }

    /// End to end. The edges of a wire may be stored in any order; those of a reversed one come backwards.
    void put_in_order(Wire& wire) const {
        constexpr double hair = 1e-5;
        for (std::size_t i = 0; i + 1 < wire.sides.size(); ++i) {
            const Side& last = wire.sides[i];
            const Vec2 end = parameters(last, last.back ? last.first() : last.last());
            const auto next = std::find_if(
                wire.sides.begin() + static_cast<std::ptrdiff_t>(i) + 1, wire.sides.end(), [&](const Side& side) {
                    return distance(parameters(side, side.back ? side.last() : side.first()), end) < hair;
                });
            if (next == wire.sides.end()) return; // goes on a turn further
            std::iter_swap(wire.sides.begin() + static_cast<std::ptrdiff_t>(i) + 1, next);
        }
    }

    void lay_out(Wire& wire) const {
        put_in_order(wire);
        Vec2 end;
        for (std::size_t i = 0; i < wire.sides.size(); ++i) {
            const Side& side = wire.sides[i];
            for (const Vec2 p : points_of(side, steps_of(side))) {
                wire.polygon.push_back(p);
                wire.side_of_point.push_back(i);
                wire.box.add(p);
            }
            end = parameters(side, side.back ? side.first() : side.last());
        }
        // A wire that runs round a closed face is open in its parameters.
        constexpr double hair = 1e-5;
        wire.closed = !wire.polygon.empty() && distance(end, wire.polygon[0]) < hair;
        wire.area = geometry::area(wire.polygon);
    }

    [[nodiscard]] std::string_view fault_of_wires(std::vector<Wire>& wires) const {
        for (Wire& wire : wires)
            lay_out(wire);
        const bool laid_out = std::ranges::all_of(wires, &Wire::closed);
        if (laid_out) {
            const auto outer = std::ranges::max_element(wires, {}, [](const Wire& w) { return std::abs(w.area); });
            if (outer->area <= 0) return "a face is bounded the wrong way round";
            for (const Wire& wire : wires) {
                if (&wire == &*outer) continue;
                if (wire.area >= 0) return "a hole of a face runs the wrong way round";
                if (geometry::winding(outer->polygon, wire.polygon[0]) == 0) return "a hole lies outside its face";
            }
        }
        if (crossing(wires)) return "contours of a face meet";
        for (const Wire& hole : wires)
            for (const Wire& other : wires)
                if (laid_out && &hole != &other && hole.area < 0 && other.area < 0 && other.box.meets(hole.box) &&
                    geometry::winding(other.polygon, hole.polygon[0]) != 0)
                    return "a hole lies in another";
        return "";
    }

    struct At {
        std::size_t wire, side;
    };
    [[nodiscard]] bool crossing(const std::vector<Wire>& wires) const {
        std::vector<Polygon> polygons;
        std::vector<std::pair<Vec2, At>> starts;
        for (std::size_t w = 0; w < wires.size(); ++w)
            polygons.push_back(wires[w].polygon);
        const surface::SegmentTree tree(polygons);
        // The tree has its edges in an order of its own: found again by where they start.
        for (std::size_t w = 0; w < wires.size(); ++w)
            for (std::size_t i = 0; i < wires[w].polygon.size(); ++i)
                starts.push_back({wires[w].polygon[i], {w, wires[w].side_of_point[i]}});
        const auto less = [](const auto& a, const auto& b) {
            return a.first.x != b.first.x ? a.first.x < b.first.x : a.first.y < b.first.y;
        };
        std::ranges::sort(starts, less);
        const auto sides_at = [&](Vec2 p) {
            return std::equal_range(starts.begin(), starts.end(), std::pair<Vec2, At>{p, {}}, less);
        };
        for (std::size_t w = 0; w < wires.size(); ++w) {
            const Wire& wire = wires[w];
            if (!wire.fresh) continue;
            const std::size_t count = wire.polygon.size() - (wire.closed ? 0 : 1);
            for (std::size_t i = 0; i < count; ++i) {
                const Vec2 a = wire.polygon[i], b = wire.polygon[(i + 1) % wire.polygon.size()];
                Box2 box;
                box.add(a);
                box.add(b);
                const bool clear = tree.visit(box, [&](const surface::SegmentTree::Edge& other) {
                    if (other.a == a || other.b == b) return true;
                    if (other.a == b || other.b == a) {
                        // Curves that leave a sharp corner may cross again before their first points.
                        const Vec2 here = b - a, there = other.b - other.a;
                        constexpr double sharp = -0.5; // 60°
                        if (dot(here, there) > sharp * length(here) * length(there)) return true;
                    } else if (!surface::meeting(a, b, other.a, other.b)) {
                        return true;
                    }
                    const auto [from, to] = sides_at(other.a);
                    return std::none_of(from, to, [&](const auto& entry) {
                        return really_meet(wires, {w, wire.side_of_point[i]}, entry.second);
                    });
                });
                if (!clear) return true;
            }
        }
        return false;
    }
    /// On polygons so fine that they tell the curves apart.
    [[nodiscard]] bool really_meet(const std::vector<Wire>& wires, const At& a, const At& b) const {
        const Side &one = wires[a.wire].sides[a.side], &other = wires[b.wire].sides[b.side];
        if (one.edge == other.edge) return false;
        constexpr int fine = 400;
        const auto fine_points = [&](const Side& side) {
            Polygon points = points_of(side, steps_of(side) == 1 ? 1 : fine);
            points.push_back(parameters(side, side.back ? side.first() : side.last()));
            return points;
        };
        const Polygon p = fine_points(one), q = fine_points(other);
        constexpr double hair = 5e-7; // they end where the next begins, within what curves are fitted
        const bool neighbours = distance(p.front(), q.back()) < hair || distance(p.back(), q.front()) < hair ||
                                distance(p.front(), q.front()) < hair;
        for (std::size_t i = 0; i + 1 < p.size(); ++i)
            for (std::size_t k = 0; k + 1 < q.size(); ++k) {
                if (neighbours && (i == 0 || i + 2 == p.size()) && (k == 0 || k + 2 == q.size())) continue;
                if (surface::meeting(p[i], p[i + 1], q[k], q[k + 1])) return true;
            }
        return false;
    }

    const TopoDS_Face& face_;
    const TopTools_MapOfShape& known_;
    bool contours_;
    Handle(Geom_Surface) surface_;
    TopLoc_Location location_;
    Handle(Geom_Plane) plane_;
};

/// The mark's own vertices, some of many, on the side of the surface where they belong.
std::string_view misplaced(const Change& change, const TopTools_MapOfShape& known, const Material& material) {
    constexpr std::size_t most = 100; // faces that are looked at; of so many a vertex each
    const std::size_t step = std::max<std::size_t>(1, change.fresh.size() / most);
    TopTools_MapOfShape seen;
    std::vector<TopoDS_Vertex> own;
    for (std::size_t i = 0; i < change.fresh.size(); i += step) {
        own.clear();
        for (TopExp_Explorer vertex(change.fresh[i], TopAbs_VERTEX); vertex.More(); vertex.Next())
            if (!known.Contains(vertex.Current()) && seen.Add(vertex.Current()))
                own.push_back(TopoDS::Vertex(vertex.Current()));
        if (step > 1 && own.size() > 1) own = {own[i / step % own.size()]}; // rims and feet in turn
        for (const TopoDS_Vertex& vertex : own)
            if (const auto in = material.holds(BRep_Tool::Pnt(vertex)); in && *in != change.cut)
                return change.cut ? "the mark comes out of the material" : "the mark runs into material";
    }
    return {};
}

} // namespace

std::optional<bool> Material::holds(const gp_Pnt& product_point) const {
    if (!mesh_ || mesh_->empty()) return std::nullopt;
    const Vec3 p = part::vec(product_point.Transformed(to_mesh_));
    // Ways that no face of a part is likely to run along.
    static const std::array ways{normalised(Vec3{0.3217, 0.5871, 0.7429}), normalised(Vec3{-0.6713, 0.2931, 0.6823}),
                                 normalised(Vec3{0.1471, -0.8137, 0.5623})};
    int inside = 0;
    for (const Vec3& way : ways) {
        double nearest = 1e300;
        bool in = false;
        for (const double sign : {1.0, -1.0}) {
            Crossings crossings(p, way * sign);
            mesh_->visit(crossings);
            nearest = std::min(nearest, crossings.nearest());
            if (sign > 0) in = crossings.inside();
        }
        if (nearest < 4 * tolerance_ + 1e-4) return std::nullopt;
        inside += in;
    }
    return inside >= 2;
}

std::string_view fault_of(const Change& change, const Material& material) {
    TopTools_MapOfShape known;
    for (const TopoDS_Face& face : change.old) {
        for (TopExp_Explorer edge(face, TopAbs_EDGE); edge.More(); edge.Next())
            known.Add(edge.Current());
        for (TopExp_Explorer vertex(face, TopAbs_VERTEX); vertex.More(); vertex.Next())
            known.Add(vertex.Current());
    }
    // In the order in which they are reported: whether all fits, the faces, and where the mark lies. The two that take
    // all faces at once are begun first.
    std::vector<std::string_view> faults(change.fresh.size() + 2);
    constexpr std::size_t large = 3; // these and the host
    side_by_side_in_blocks(faults.size(), large, [&](std::size_t i) {
        if (i == 0)
            faults.front() =
                fits_in_place_of(change.fresh, change.old) ? "" : "the changed surface would not be closed";
        else if (i == 1)
            faults.back() = misplaced(change, known, material);
        else
            faults[i - 1] = FaceCheck(change.fresh[i - 2], known, change.contours).fault();
    });
    for (const std::string_view fault : faults)
        if (!fault.empty()) return fault;
    return {};
}

} // namespace touchmark::imprint
