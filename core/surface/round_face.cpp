// SPDX-License-Identifier: MIT
#include "core/surface/round_face.h"

#include "core/part/recognise.h"
#include "core/part/vectors.h"
#include "core/surface/boundary.h"

#include <BRepAdaptor_Curve.hxx>
#include <BRepAdaptor_Surface.hxx>
#include <BRep_Tool.hxx>
#include <GCPnts_TangentialDeflection.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Vertex.hxx>
#include <gp_Cone.hxx>
#include <gp_Cylinder.hxx>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace touchmark::surface {
namespace {

constexpr double turn = 2 * std::numbers::pi;

struct Piece {
    TopoDS_Vertex first, last;
    std::vector<Vec2> points;
    bool used = false;
};

/// Moves `p` by whole turns to within half a turn of `by`; at a cone's apex any angle is as good.
Vec2 followed(const Unrolling& unrolling, Vec2 p, double by) {
    if (std::abs(unrolling.radius_at(p.y)) < 1e-9) return {by, p.y};
    return {p.x + turn * std::round((by - p.x) / turn), p.y};
}

std::vector<Vec2> sampled(const TopoDS_Edge& edge, const gp_Trsf& placing, const Unrolling& unrolling,
                          double tolerance) {
    const BRepAdaptor_Curve curve(edge);
    std::vector<Vec2> points;
    const auto add = [&](const gp_Pnt& p) {
        const Vec2 uv = unrolling.parameters_near(part::vec(p.Transformed(placing)));
        points.push_back(points.empty() ? uv : followed(unrolling, uv, points.back().x));
    };
    if (curve.GetType() == GeomAbs_Line) {
        add(curve.Value(curve.FirstParameter()));
        add(curve.Value(curve.LastParameter()));
        return points;
    }
    const GCPnts_TangentialDeflection along(curve, 0.1, tolerance, 3, 1e-9);
    for (int i = 1; i <= along.NbPoints(); ++i)
        add(along.Value(i));
    return points;
}

/// Edges that the faces have on one side only, in the direction in which they have them.
std::vector<Piece> pieces_of(std::span<const TopoDS_Face> faces, const gp_Trsf& placing, const Unrolling& unrolling,
                             double tolerance) {
    TopTools_IndexedMapOfShape edges;
    std::vector<int> uses;
    const auto is_side = [](const TopoDS_Shape& edge) {
        return (edge.Orientation() == TopAbs_FORWARD || edge.Orientation() == TopAbs_REVERSED) &&
               !BRep_Tool::Degenerated(TopoDS::Edge(edge));
    };
    const auto seen = [&](const TopoDS_Face& face) -> TopoDS_Shape {
        return faces.size() == 1 ? face.Oriented(TopAbs_FORWARD) : TopoDS_Shape(face);
    };
    for (const TopoDS_Face& face : faces)
        for (TopExp_Explorer edge(seen(face), TopAbs_EDGE); edge.More(); edge.Next())
            if (is_side(edge.Current())) {
                const auto index = static_cast<std::size_t>(edges.Add(edge.Current()));
                uses.resize(std::max(uses.size(), index));
                ++uses[index - 1];
            }
    std::vector<Piece> pieces;
    for (const TopoDS_Face& face : faces)
        for (TopExp_Explorer item(seen(face), TopAbs_EDGE); item.More(); item.Next()) {
            if (!is_side(item.Current()) || uses[static_cast<std::size_t>(edges.FindIndex(item.Current()) - 1)] != 1)
                continue;
            const TopoDS_Edge& edge = TopoDS::Edge(item.Current());
            Piece piece;
            piece.points = sampled(TopoDS::Edge(edge.Oriented(TopAbs_FORWARD)), placing, unrolling, tolerance);
            if (edge.Orientation() == TopAbs_REVERSED) std::reverse(piece.points.begin(), piece.points.end());
            TopExp::Vertices(edge, piece.first, piece.last, Standard_True);
            pieces.push_back(std::move(piece));
        }
    return pieces;
}

Piece* next_piece(std::vector<Piece>& pieces, const Piece& at, Vec2 end, const Unrolling& unrolling) {
    for (Piece& piece : pieces)
        if (!piece.used && !at.last.IsNull() && piece.first.IsSame(at.last)) return &piece;
    Piece* nearest = nullptr;
    double reach = 0.05;
    for (Piece& piece : pieces) {
        if (piece.used) continue;
        const double gap = distance(unrolling.point(piece.points.front()), unrolling.point(end));
        if (gap <= reach) reach = gap, nearest = &piece;
    }
    return nearest;
}

/// A polyline round the axis, repeated as often as is needed, between two angles.
std::vector<Vec2> stretch(std::vector<Vec2> loop, const Window& window) {
    if (loop.back().x < loop.front().x) std::reverse(loop.begin(), loop.end());
    std::vector<Vec2> all;
    double by = turn * (std::floor((window.low - loop.front().x) / turn) - 1);
    for (; loop.front().x + by <= window.high + turn; by += turn)
        for (std::size_t i = 0; i + 1 < loop.size(); ++i)
            all.push_back({loop[i].x + by, loop[i].y});
    const auto crossing = [&](double u, std::size_t from) -> std::pair<std::size_t, Vec2> {
        for (std::size_t i = from; i + 1 < all.size(); ++i)
            if (all[i].x <= u && all[i + 1].x > u) {
                const double t = (u - all[i].x) / (all[i + 1].x - all[i].x);
                return {i, {u, all[i].y + (all[i + 1].y - all[i].y) * t}};
            }
        return {all.size() - 1, {u, all.back().y}};
    };
    const auto [begin, start] = crossing(window.low, 0);
    const auto [end, finish] = crossing(window.high, begin);
    std::vector<Vec2> out{start};
    for (std::size_t i = begin + 1; i <= end && i < all.size(); ++i)
        if (all[i].x < window.high) out.push_back(all[i]);
    out.push_back(finish);
    return out;
}

/// Around the apex nothing bounds the face.
std::vector<Vec2> apex_line(const Unrolling& unrolling, const Window& window) {
    return {{window.low, unrolling.apex()}, {window.high, unrolling.apex()}};
}

geometry::Contour carried(const std::vector<Vec2>& loop, const Unrolling& unrolling, double by = 0) {
    std::vector<Vec2> points;
    for (const Vec2 p : loop) {
        const Vec2 at = unrolling.at({p.x + by, p.y});
        if (points.empty() || distance(points.back(), at) > 1e-9) points.push_back(at);
    }
    if (points.size() > 1 && distance(points.front(), points.back()) <= 1e-9) points.pop_back();
    return geometry::contour_of(points);
}

Result<geometry::Outline> closed_room(const RoundBoundary& boundary, const Unrolling& unrolling, const Window& window) {
    std::vector<Vec2> strip = stretch(boundary.turns[0], window);
    std::vector<Vec2> back =
        boundary.turns.size() > 1 ? stretch(boundary.turns[1], window) : apex_line(unrolling, window);
    strip.insert(strip.end(), back.rbegin(), back.rend());
    std::vector<geometry::Contour> inside{carried(strip, unrolling)}, cut;
    for (const auto& loop : boundary.loops) {
        const Box2 box = bounds_of(loop);
        for (double by = std::ceil((window.low - box.high.x) / turn) * turn; box.low.x + by < window.high; by += turn) {
            const bool whole = box.low.x + by > window.low + 1e-9 && box.high.x + by < window.high - 1e-9;
            (whole ? inside : cut).push_back(carried(loop, unrolling, by));
        }
    }
    Result<geometry::Outline> room = room_within(std::move(inside));
    if (!room || cut.empty()) return room;
    const Result<geometry::Outline> holes = room_within(std::move(cut));
    if (!holes) return std::unexpected(holes.error());
    return geometry::difference(*room, *holes, 5e-4);
}

/// Each hole in the turn in which the outer edge has it inside.
Result<geometry::Outline> open_room(const RoundBoundary& boundary, const Unrolling& unrolling) {
    const auto size = [&](const std::vector<Vec2>& loop) { return std::abs(geometry::area(carried(loop, unrolling))); };
    const auto outer = std::max_element(boundary.loops.begin(), boundary.loops.end(),
                                        [&](const auto& a, const auto& b) { return size(a) < size(b); });
    const Box2 all = bounds_of(*outer);
    std::vector<geometry::Contour> contours;
    for (const auto& loop : boundary.loops) {
        const double middle = bounds_of(loop).centre().x;
        const double by = &loop == &*outer ? 0.0 : turn * std::round((all.centre().x - middle) / turn);
        contours.push_back(carried(loop, unrolling, by));
    }
    return room_within(std::move(contours));
}

} // namespace

Box2 bounds_of(const std::vector<Vec2>& line) {
    Box2 box;
    for (const Vec2 p : line)
        box.add(p);
    return box;
}

std::optional<Unrolling> unrolling_of(const TopoDS_Face& face, const gp_Trsf& placing) {
    const BRepAdaptor_Surface surface(face);
    Unrolling out;
    gp_Ax3 axes;
    if (surface.GetType() == GeomAbs_Cylinder) {
        axes = surface.Cylinder().Position();
        out.radius = surface.Cylinder().Radius();
    } else if (surface.GetType() == GeomAbs_Cone) {
        axes = surface.Cone().Position();
        out.radius = surface.Cone().RefRadius();
        out.sine = std::sin(surface.Cone().SemiAngle());
        out.cosine = std::cos(surface.Cone().SemiAngle());
        const double middle = (surface.FirstVParameter() + surface.LastVParameter()) / 2;
        if (out.radius_at(middle) < 0) out.nappe = -1;
    } else if (const auto form = part::recognised_round(face)) {
        axes = form->axes;
        out.radius = form->radius;
        out.sine = std::sin(form->semi_angle);
        out.cosine = std::cos(form->semi_angle);
        out.recognised = true;
    } else {
        return std::nullopt;
    }
    const auto carried = [&](const gp_Dir& d) { return normalised(part::vec(gp_Vec(d).Transformed(placing))); };
    // ∂u × ∂v points away from the axis where the axes are right-handed.
    out.outward = out.nappe * (axes.Direct() ? 1 : -1) * (face.Orientation() == TopAbs_REVERSED ? -1 : 1);
    out.radius *= std::abs(placing.ScaleFactor());
    out.origin = part::vec(axes.Location().Transformed(placing));
    out.x = carried(axes.XDirection());
    out.y = carried(axes.YDirection());
    out.z = carried(axes.Direction());
    return out;
}

Result<RoundBoundary> round_boundary(const TopoDS_Face& face, const gp_Trsf& placing, const Unrolling& unrolling,
                                     double tolerance) {
    return round_boundary(std::span(&face, 1), placing, unrolling, tolerance);
}

Result<RoundBoundary> round_boundary(std::span<const TopoDS_Face> faces, const gp_Trsf& placing,
                                     const Unrolling& unrolling, double tolerance) {
    std::vector<Piece> pieces = pieces_of(faces, placing, unrolling, tolerance);
    RoundBoundary out;
    for (Piece& start : pieces) {
        if (start.used) continue;
        std::vector<Vec2> line{start.points.front()};
        Piece* piece = &start;
        bool closed = false;
        while (piece) {
            piece->used = true;
            const double by = followed(unrolling, piece->points.front(), line.back().x).x - piece->points.front().x;
            for (std::size_t i = 1; i < piece->points.size(); ++i)
                line.push_back({piece->points[i].x + by, piece->points[i].y});
            closed = (!piece->last.IsNull() && piece->last.IsSame(start.first)) ||
                     distance(unrolling.point(line.back()), unrolling.point(line.front())) < 1e-7;
            if (closed) break;
            piece = next_piece(pieces, *piece, line.back(), unrolling);
        }
        if (!closed && distance(unrolling.point(line.back()), unrolling.point(line.front())) > 0.05)
            return fail("surface.degenerate", "The face's edges do not close.",
                        "Repair the part in the design program, or choose another face.");
        const double round = (line.back().x - line.front().x) / turn;
        if (std::abs(round) > 0.5) {
            line.back() = {line.front().x + turn * std::round(round), line.front().y};
            out.turns.push_back(std::move(line));
        } else if (line.size() > 3) {
            line.pop_back();
            out.loops.push_back(std::move(line));
        }
    }
    const bool to_apex = unrolling.sine != 0 && out.turns.size() == 1;
    if (out.turns.size() > 2 || (out.turns.size() == 1 && !to_apex) || (out.turns.empty() && out.loops.empty()))
        return fail("surface.degenerate", "The face's edges do not close around it.", "Choose another face.");
    return out;
}

Result<geometry::Outline> room_of(const RoundBoundary& boundary, const Unrolling& unrolling, const Window& window) {
    return boundary.turns.empty() ? open_room(boundary, unrolling) : closed_room(boundary, unrolling, window);
}

Window whole_window(const Unrolling& unrolling) {
    double reach = turn;
    if (unrolling.sine != 0) reach = std::min(reach, 0.99 * std::numbers::pi / std::abs(unrolling.sine));
    return {unrolling.centre.x - reach, unrolling.centre.x + reach};
}

} // namespace touchmark::surface
