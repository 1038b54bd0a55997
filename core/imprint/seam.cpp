// SPDX-License-Identifier: MIT
#include "core/imprint/seam.h"

#include "core/imprint/check.h"
#include "core/surface/round_face.h"

#include <BRepTools_WireExplorer.hxx>
#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <Geom2d_Curve.hxx>
#include <Geom_Curve.hxx>
#include <NCollection_DataMap.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_ShapeMapHasher.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Iterator.hxx>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace touchmark::imprint {
namespace {

constexpr double turn = 2 * std::numbers::pi;
constexpr double on_seam = 1e-9; // radians: contours were split there on purpose

/// An edge's curve in the parameters of the unrolling, in the edge's own direction.
struct Trace {
    Handle(Geom2d_Curve) curve;
    double first = 0, last = 0;

    const StoredRound* stored;

    Trace(const TopoDS_Edge& edge, const TopoDS_Face& face, const RoundHost& host) : stored(host.stored.get()) {
        curve = BRep_Tool::CurveOnSurface(edge, face, first, last);
    }
    [[nodiscard]] Vec2 at(double s) const {
        const gp_Pnt2d p = curve->Value(first + (last - first) * s);
        return stored ? stored->unrolled({p.X(), p.Y()}) : Vec2{p.X(), p.Y()};
    }
};

double hair_of(const RoundHost& host) {
    return host.stored ? host.stored->seam_hair() : on_seam;
}

/// An edge as the loop runs, and what comes after it.
struct Side {
    TopoDS_Edge edge;
    std::vector<Vec2> points; ///< in the parameter plane, without the end
    int next = -1;
    bool done = false;
};

std::vector<Vec2> points_along(const TopoDS_Edge& edge, const TopoDS_Face& face, const RoundHost& host) {
    const Trace trace(edge, face, host);
    std::vector<Vec2> points;
    constexpr int count = 6;
    for (int i = 0; i < count; ++i) {
        const double s = static_cast<double>(i) / count;
        points.push_back(trace.at(edge.Orientation() == TopAbs_REVERSED ? 1 - s : s));
    }
    return points;
}

Vec2 end_of(const TopoDS_Edge& edge, const TopoDS_Face& face, const RoundHost& host) {
    return Trace(edge, face, host).at(edge.Orientation() == TopAbs_REVERSED ? 0 : 1);
}

class SeamCutter {
public:
    SeamCutter(const TopoDS_Face& face, const RoundHost& host)
        : face_(TopoDS::Face(face.Oriented(TopAbs_FORWARD))), host_(host) {}

    [[nodiscard]] Status run(OpenedFace& opened) {
        sort_wires();
        if (crossing_.empty()) return {};
        for (const TopoDS_Wire& wire : crossing_)
            add_rim(wire);
        for (const TopoDS_Wire& wire : seamed_)
            if (!add_seamed(wire)) return failed("its outline meets the seam of the face in an odd way");
        for (Side& side : sides_)
            if (side.next < 0) return failed("its outline does not close along the seam of the face");
        collect();
        return rebuild(opened);
    }

private:
    struct Loop {
        TopoDS_Wire wire;
        std::vector<Vec2> polygon;
    };

    [[nodiscard]] bool at_seam(double u) const {
        const double hair = hair_of(host_);
        return std::abs(u - host_.low) < hair || std::abs(u - host_.low - turn) < hair;
    }
    [[nodiscard]] bool is_high(double u) const { return u > host_.low + turn / 2; }

    void sort_wires() {
        for (TopoDS_Iterator item(face_); item.More(); item.Next()) {
            const TopoDS_Wire& wire = TopoDS::Wire(item.Value());
            bool seamed = false;
            for (TopoDS_Iterator edge(wire); edge.More() && !seamed; edge.Next()) {
                const TopoDS_Edge& at = TopoDS::Edge(edge.Value());
                seamed = !BRep_Tool::Degenerated(at) && BRep_Tool::IsClosed(at, face_);
            }
            (seamed ? seamed_ : jumps(wire) ? crossing_ : kept_).push_back(wire);
        }
    }
    /// Whether it goes on at the other end of the parameter range.
    [[nodiscard]] bool jumps(const TopoDS_Wire& wire) const {
        double low = 1e300, high = -1e300;
        for (TopoDS_Iterator edge(wire); edge.More(); edge.Next())
            for (const Vec2 p : {points_along(TopoDS::Edge(edge.Value()), face_, host_).front(),
                                 end_of(TopoDS::Edge(edge.Value()), face_, host_)}) {
                if (!at_seam(p.x)) continue;
                low = std::min(low, p.x);
                high = std::max(high, p.x);
            }
        return high - low > turn / 2;
    }

    void start(const TopoDS_Shape& vertex, bool high, int side) {
        if (!starts_.IsBound(vertex)) starts_.Bind(vertex, {-1, -1});
        starts_.ChangeFind(vertex)[high ? 1 : 0] = side;
    }
    [[nodiscard]] int started(const TopoDS_Shape& vertex, bool high) const {
        const auto* found = starts_.Seek(vertex);
        return found ? (*found)[high ? 1 : 0] : -1;
    }

    void add_rim(const TopoDS_Wire& wire) {
        const std::size_t first = sides_.size();
        NCollection_DataMap<TopoDS_Shape, int, TopTools_ShapeMapHasher> by_start;
        for (TopoDS_Iterator item(wire); item.More(); item.Next()) {
            const TopoDS_Edge& edge = TopoDS::Edge(item.Value());
            by_start.Bind(TopExp::FirstVertex(edge, Standard_True), static_cast<int>(sides_.size()));
            sides_.push_back({edge, points_along(edge, face_, host_)});
        }
        for (std::size_t i = first; i < sides_.size(); ++i) {
            const TopoDS_Vertex to = TopExp::LastVertex(sides_[i].edge, Standard_True);
            const int next = by_start.Find(to);
            const Vec2 begin = sides_[static_cast<std::size_t>(next)].points.front();
            if (std::abs(end_of(sides_[i].edge, face_, host_).x - begin.x) < turn / 2) {
                sides_[i].next = next;
                continue;
            }
            start(to, is_high(begin.x), next);
            crossings_.push_back({to, begin.y});
            open_ends_.push_back(static_cast<int>(i));
        }
    }

    /// The parts of a seam edge outside the mark; empty where it is not crossed.
    const std::vector<TopoDS_Edge>& parts_of(const TopoDS_Edge& seam) {
        if (const auto* known = parts_.Seek(seam)) return *known;
        std::vector<TopoDS_Edge> parts;
        const TopoDS_Edge forward = TopoDS::Edge(seam.Oriented(TopAbs_FORWARD));
        const Trace one(forward, face_, host_), other(TopoDS::Edge(seam.Oriented(TopAbs_REVERSED)), face_, host_);
        const double v0 = one.at(0).y, v1 = one.at(1).y;
        std::vector<std::pair<double, TopoDS_Vertex>> cuts;
        for (const auto& [vertex, v] : crossings_)
            if (const double s = (v - v0) / (v1 - v0); s > 0 && s < 1) cuts.emplace_back(s, vertex);
        std::sort(cuts.begin(), cuts.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
        if (!cuts.empty() && cuts.size() % 2 == 0) {
            TopLoc_Location location;
            double first, last;
            const Handle(Geom_Curve) curve = BRep_Tool::Curve(forward, location, first, last);
            const double tolerance = BRep_Tool::Tolerance(forward);
            for (std::size_t i = 0; i <= cuts.size(); i += 2) {
                const double from = i == 0 ? 0 : cuts[i - 1].first, to = i == cuts.size() ? 1 : cuts[i].first;
                const TopoDS_Vertex begin = i == 0 ? TopExp::FirstVertex(forward) : cuts[i - 1].second;
                const TopoDS_Vertex end = i == cuts.size() ? TopExp::LastVertex(forward) : cuts[i].second;
                TopoDS_Edge part;
                builder_.MakeEdge(part, curve, location, tolerance);
                builder_.UpdateEdge(part, one.curve, other.curve, host_.surface.surface, host_.surface.location,
                                    tolerance);
                builder_.Add(part, begin.Oriented(TopAbs_FORWARD));
                builder_.Add(part, end.Oriented(TopAbs_REVERSED));
                builder_.Range(part, first + (last - first) * from, first + (last - first) * to);
                for (const TopoDS_Vertex& vertex : {begin, end})
                    raise_tolerance(vertex, tolerance);
                parts.push_back(part);
            }
        }
        return *parts_.Bound(seam, parts);
    }
    /// A vertex of the mark; the part's own have theirs already.
    void raise_tolerance(const TopoDS_Vertex& vertex, double tolerance) {
        for (const auto& [own, v] : crossings_)
            if (own.IsSame(vertex)) builder_.UpdateVertex(vertex, tolerance);
    }

    bool add_seamed(const TopoDS_Wire& wire) {
        const std::size_t first = sides_.size();
        std::vector<int> order; // −1: a gap, where the mark's outline goes on
        int seen = 0;
        for (BRepTools_WireExplorer item(wire, face_); item.More(); item.Next(), ++seen) {
            const TopoDS_Edge& edge = item.Current();
            const std::vector<TopoDS_Edge> parts = !BRep_Tool::Degenerated(edge) && BRep_Tool::IsClosed(edge, face_)
                                                       ? parts_of(edge)
                                                       : std::vector<TopoDS_Edge>();
            if (parts.empty()) {
                order.push_back(static_cast<int>(sides_.size()));
                sides_.push_back({edge, points_along(edge, face_, host_)});
                continue;
            }
            for (std::size_t i = 0; i < parts.size(); ++i) {
                const bool reversed = edge.Orientation() == TopAbs_REVERSED;
                const TopoDS_Edge part =
                    TopoDS::Edge(parts[reversed ? parts.size() - 1 - i : i].Oriented(edge.Orientation()));
                if (i > 0) order.push_back(-1);
                order.push_back(static_cast<int>(sides_.size()));
                sides_.push_back({part, points_along(part, face_, host_)});
                if (i > 0)
                    start(TopExp::FirstVertex(part, Standard_True), is_high(sides_.back().points.front().x),
                          order.back());
            }
        }
        if (wire.NbChildren() != seen) return false; // the explorer stopped where the wire is loose
        for (std::size_t i = 0; i < order.size(); ++i) {
            if (order[i] < 0) continue;
            const int next = order[(i + 1) % order.size()];
            if (next >= 0)
                sides_[static_cast<std::size_t>(order[i])].next = next;
            else
                open_ends_.push_back(order[i]);
        }
        for (const int open : open_ends_) {
            Side& side = sides_[static_cast<std::size_t>(open)];
            if (side.next >= 0) continue;
            side.next =
                started(TopExp::LastVertex(side.edge, Standard_True), is_high(end_of(side.edge, face_, host_).x));
        }
        return sides_.size() > first;
    }

    void collect() {
        for (Side& begin : sides_) {
            if (begin.done) continue;
            Loop loop;
            builder_.MakeWire(loop.wire);
            for (Side* side = &begin; !side->done; side = &sides_[static_cast<std::size_t>(side->next)]) {
                side->done = true;
                builder_.Add(loop.wire, side->edge);
                loop.polygon.insert(loop.polygon.end(), side->points.begin(), side->points.end());
            }
            loop.wire.Closed(Standard_True);
            (geometry::area(loop.polygon) > 0 ? outer_ : inner_).push_back(std::move(loop));
        }
        for (const TopoDS_Wire& wire : kept_) {
            const TopoDS_Iterator edge(wire); // a point tells in which loop it lies
            inner_.push_back({wire, points_along(TopoDS::Edge(edge.Value()), face_, host_)});
        }
    }

    Status rebuild(OpenedFace& opened) {
        if (outer_.empty()) return failed("nothing of the face would be left");
        const TopAbs_Orientation orientation = opened.host.Orientation();
        const double tolerance = BRep_Tool::Tolerance(face_);
        std::vector<TopoDS_Face> faces;
        for (const Loop& loop : outer_) {
            faces.push_back(face_on(host_.surface, tolerance, TopAbs_FORWARD));
            builder_.Add(faces.back(), loop.wire);
        }
        for (const Loop& loop : inner_) {
            const auto around = std::find_if(outer_.begin(), outer_.end(), [&](const Loop& outer) {
                return outer_.size() == 1 || geometry::winding(outer.polygon, loop.polygon.front()) != 0;
            });
            if (around == outer_.end()) return failed("a hole of the face would be left without it");
            builder_.Add(faces[static_cast<std::size_t>(around - outer_.begin())], loop.wire);
        }
        opened.host = TopoDS::Face(faces[0].Oriented(orientation));
        for (std::size_t i = 1; i < faces.size(); ++i)
            opened.islands.push_back(TopoDS::Face(faces[i].Oriented(orientation)));
        return {};
    }

    BRep_Builder builder_;
    TopoDS_Face face_;
    const RoundHost& host_;
    std::vector<TopoDS_Wire> seamed_, crossing_, kept_;
    std::vector<Side> sides_;
    std::vector<int> open_ends_;
    std::vector<std::pair<TopoDS_Vertex, double>> crossings_;
    NCollection_DataMap<TopoDS_Shape, std::array<int, 2>, TopTools_ShapeMapHasher> starts_;
    NCollection_DataMap<TopoDS_Shape, std::vector<TopoDS_Edge>, TopTools_ShapeMapHasher> parts_;
    std::vector<Loop> outer_, inner_;
};

/// Whether the face's surface is stored as the very one that is rolled out; another face of the same cylinder may have
/// other axes.
bool has_parameters_of(const TopoDS_Face& face, const surface::Unrolling& unrolling) {
    if (unrolling.recognised) return false;
    const auto own = surface::unrolling_of(face, gp_Trsf());
    if (!own || own->recognised) return false;
    constexpr double hair = 1e-9;
    return distance(own->origin, unrolling.origin) < hair && distance(own->x, unrolling.x) < hair &&
           distance(own->y, unrolling.y) < hair && distance(own->z, unrolling.z) < hair &&
           std::abs(own->radius - unrolling.radius) < hair && std::abs(own->sine - unrolling.sine) < hair;
}

} // namespace

RoundHost round_host(const TopoDS_Face& face, const surface::Unrolling& unrolling) {
    RoundHost host;
    host.surface.surface = BRep_Tool::Surface(face, host.surface.location);
    if (!has_parameters_of(face, unrolling)) host.stored = std::make_shared<const StoredRound>(face, unrolling);
    host.low = unrolling.centre.x - turn / 2;
    double low = 1e300, high = -1e300;
    for (TopExp_Explorer item(face.Oriented(TopAbs_FORWARD), TopAbs_EDGE); item.More(); item.Next()) {
        const TopoDS_Edge& edge = TopoDS::Edge(item.Current());
        const Trace trace(edge, face, host);
        if (trace.curve.IsNull()) continue;
        if (!BRep_Tool::Degenerated(edge) && BRep_Tool::IsClosed(edge, face)) {
            const Trace other(TopoDS::Edge(edge.Reversed()), face, host);
            host.low = std::min(trace.at(0.5).x, other.at(0.5).x);
            return host;
        }
        for (const double s : {0.0, 0.25, 0.5, 0.75, 1.0}) {
            low = std::min(low, trace.at(s).x);
            high = std::max(high, trace.at(s).x);
        }
    }
    if (low <= high) host.low = (low + high) / 2 - turn / 2;
    return host;
}

bool has_straight_seams(const TopoDS_Face& face, const RoundHost& host) {
    const double along = host.stored ? 1e-6 : 1e-7;
    for (TopExp_Explorer item(face, TopAbs_EDGE); item.More(); item.Next()) {
        const TopoDS_Edge& edge = TopoDS::Edge(item.Current());
        if (BRep_Tool::Degenerated(edge) || !BRep_Tool::IsClosed(edge, face)) continue;
        const Trace trace(edge, face, host);
        for (const double s : {0.25, 0.5, 1.0})
            if (std::abs(trace.at(s).x - trace.at(0).x) > hair_of(host) ||
                std::abs(trace.at(s).y - trace.at(0).y - s * (trace.at(1).y - trace.at(0).y)) > along)
                return false;
    }
    return true;
}

Status interrupt_seam(OpenedFace& opened, const RoundHost& host) {
    return SeamCutter(opened.host, host).run(opened);
}

} // namespace touchmark::imprint
