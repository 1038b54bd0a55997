// SPDX-License-Identifier: MIT
#include "core/surface/boundary.h"

#include "core/part/vectors.h"

#include <BRepAdaptor_Curve.hxx>
#include <BRep_Tool.hxx>
#include <GCPnts_TangentialDeflection.hxx>
#include <TopExp.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Iterator.hxx>
#include <TopoDS_Vertex.hxx>
#include <gp_Circ.hxx>
#include <gp_Elips.hxx>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace touchmark::surface {
namespace {

using geometry::Contour;
using geometry::Segment;

struct Piece {
    TopoDS_Vertex first, last;
    std::vector<Segment> segments;
    bool used = false;
};

class Reader {
public:
    Reader(const gp_Trsf& placing, const Frame& frame, double tolerance)
        : placing_(placing), frame_(frame), tolerance_(tolerance) {}

    [[nodiscard]] Vec2 flat(const gp_Pnt& p) const { return frame_.to_plane(part::vec(p.Transformed(placing_))); }

    /// In the edge's own direction of growing parameter.
    [[nodiscard]] std::vector<Segment> segments(const TopoDS_Edge& edge, std::vector<StraightEdge>& straight) const {
        const BRepAdaptor_Curve curve(edge);
        const double from = curve.FirstParameter(), to = curve.LastParameter();
        const Vec2 start = flat(curve.Value(from)), end = flat(curve.Value(to));
        if (is_straight(curve)) {
            const double size = distance(start, end);
            if (size > 0) straight.push_back({(end - start) * (1 / size), size});
            return {Segment::line(start, end)};
        }
        if (curve.GetType() == GeomAbs_Circle) {
            const gp_Circ circle = curve.Circle();
            return arc(circle.Position(), circle.Radius(), circle.Radius(), from, to);
        }
        if (curve.GetType() == GeomAbs_Ellipse) {
            const gp_Elips ellipse = curve.Ellipse();
            return arc(ellipse.Position(), ellipse.MajorRadius(), ellipse.MinorRadius(), from, to);
        }
        return polyline(curve);
    }

private:
    [[nodiscard]] bool is_straight(const BRepAdaptor_Curve& curve) const {
        if (curve.GetType() == GeomAbs_Line) return true;
        if (curve.GetType() != GeomAbs_BSplineCurve && curve.GetType() != GeomAbs_BezierCurve) return false;
        const gp_Pnt a = curve.Value(curve.FirstParameter()), b = curve.Value(curve.LastParameter());
        const double size = a.Distance(b);
        if (size < 1e-6) return false;
        const gp_Vec along = gp_Vec(a, b) / size;
        double before = -1e-6;
        for (int i = 1; i < 16; ++i) {
            const double t = curve.FirstParameter() + (curve.LastParameter() - curve.FirstParameter()) * i / 16.0;
            const gp_Vec to(a, curve.Value(t));
            const double reach = to.Dot(along);
            if ((to - along * reach).Magnitude() > 1e-5 || reach < before) return false;
            before = reach;
        }
        return true;
    }

    /// Cubics of equal angle; their distance from a circle of radius r is r (2/27) sin⁶(θ/4) / cos²(θ/4).
    [[nodiscard]] std::vector<Segment> arc(const gp_Ax2& position, double major, double minor, double from,
                                           double to) const {
        const double span = to - from;
        int count = std::max(1, static_cast<int>(std::ceil(std::abs(span) / (std::numbers::pi / 2) - 1e-9)));
        const auto error = [&](int n) {
            const double quarter = std::abs(span) / n / 4;
            return std::max(major, minor) * 2 / 27 * std::pow(std::sin(quarter), 6) / std::pow(std::cos(quarter), 2);
        };
        while (error(count) > tolerance_ && count < 4096)
            count *= 2;
        const gp_XYZ centre = position.Location().XYZ();
        const gp_XYZ x = position.XDirection().XYZ() * major, y = position.YDirection().XYZ() * minor;
        const auto at = [&](double u, double v) { return flat(gp_Pnt(centre + x * u + y * v)); };
        const double step = span / count, k = 4.0 / 3.0 * std::tan(step / 4);
        std::vector<Segment> segments;
        for (int i = 0; i < count; ++i) {
            const double a = from + step * i, b = i + 1 == count ? to : a + step;
            const double ca = std::cos(a), sa = std::sin(a), cb = std::cos(b), sb = std::sin(b);
            segments.push_back(
                Segment::cubic(at(ca, sa), at(ca - k * sa, sa + k * ca), at(cb + k * sb, sb - k * cb), at(cb, sb)));
        }
        return segments;
    }

    [[nodiscard]] std::vector<Segment> polyline(const BRepAdaptor_Curve& curve) const {
        std::vector<Vec2> points;
        const GCPnts_TangentialDeflection sampled(curve, 0.2, tolerance_, 3, 1e-9);
        for (int i = 1; i <= sampled.NbPoints(); ++i)
            points.push_back(flat(sampled.Value(i)));
        std::vector<Segment> segments;
        for (std::size_t i = 0; i + 1 < points.size(); ++i)
            segments.push_back(Segment::line(points[i], points[i + 1]));
        return segments;
    }

    const gp_Trsf& placing_;
    const Frame& frame_;
    double tolerance_;
};

void turn_round(std::vector<Segment>& segments) {
    std::reverse(segments.begin(), segments.end());
    for (Segment& segment : segments)
        segment = geometry::reversed(segment);
}

/// The piece that goes on where `at` ends: by vertex, else by place.
Piece* next_piece(std::vector<Piece>& pieces, const Piece& at, double reach) {
    for (Piece& piece : pieces)
        if (!piece.used && !at.last.IsNull() && piece.first.IsSame(at.last)) return &piece;
    Piece* nearest = nullptr;
    for (Piece& piece : pieces) {
        if (piece.used) continue;
        const double gap = distance(piece.segments.front().start(), at.segments.back().end());
        if (gap <= reach) reach = gap, nearest = &piece;
    }
    return nearest;
}

/// Gaps of the size of the file's tolerance are closed by moving the later point.
Contour joined(const std::vector<const Piece*>& loop) {
    Contour contour;
    for (const Piece* piece : loop)
        for (Segment segment : piece->segments) {
            if (!contour.segments.empty()) segment.points[0] = contour.segments.back().end();
            if (segment.degree > 1 || segment.start() != segment.end()) contour.segments.push_back(segment);
        }
    if (!contour.segments.empty()) {
        Segment& last = contour.segments.back();
        last.points[static_cast<std::size_t>(last.degree)] = contour.segments.front().start();
        if (last.degree == 1 && last.start() == last.end()) contour.segments.pop_back();
    }
    return contour;
}

Status chain(std::vector<Piece>& pieces, std::vector<Contour>& contours) {
    constexpr double reach = 0.05;
    for (Piece& start : pieces) {
        if (start.used) continue;
        std::vector<const Piece*> loop;
        Piece* piece = &start;
        bool closed = false;
        while (piece && !closed) {
            piece->used = true;
            loop.push_back(piece);
            closed = (!piece->last.IsNull() && piece->last.IsSame(start.first)) ||
                     distance(piece->segments.back().end(), start.segments.front().start()) < 1e-7;
            if (!closed) {
                Piece* next = next_piece(pieces, *piece, reach);
                if (!next && distance(piece->segments.back().end(), start.segments.front().start()) <= reach)
                    closed = true;
                piece = next;
            }
        }
        if (!closed)
            return fail("surface.degenerate", "The face's edges do not close.",
                        "Repair the part in the design program, or choose another face.");
        Contour contour = joined(loop);
        if (contour.segments.size() > 1 || (contour.segments.size() == 1 && contour.segments[0].degree == 3))
            contours.push_back(std::move(contour));
    }
    return {};
}

} // namespace

Result<Boundary> boundary_of(std::span<const TopoDS_Face> faces, const gp_Trsf& placing, const Frame& frame,
                             double tolerance) {
    Boundary boundary;
    const Reader reader(placing, frame, tolerance);
    TopTools_IndexedMapOfShape edges;
    std::vector<int> uses;
    const auto is_side = [](const TopoDS_Shape& edge) {
        return edge.ShapeType() == TopAbs_EDGE &&
               (edge.Orientation() == TopAbs_FORWARD || edge.Orientation() == TopAbs_REVERSED) &&
               !BRep_Tool::Degenerated(TopoDS::Edge(edge));
    };
    const auto each_wire = [&](auto&& look) {
        for (const TopoDS_Face& face : faces) {
            const TopoDS_Shape seen = faces.size() == 1 ? face.Oriented(TopAbs_FORWARD) : TopoDS_Shape(face);
            for (TopoDS_Iterator wire(seen); wire.More(); wire.Next())
                look(wire.Value());
        }
    };
    each_wire([&](const TopoDS_Shape& wire) {
        for (TopoDS_Iterator edge(wire); edge.More(); edge.Next())
            if (is_side(edge.Value())) {
                const auto index = static_cast<std::size_t>(edges.Add(edge.Value()));
                uses.resize(std::max(uses.size(), index));
                ++uses[index - 1];
            }
    });
    std::vector<std::vector<Piece>> pieces; // a wire's, or where there are more faces, all together
    each_wire([&](const TopoDS_Shape& wire) {
        if (pieces.empty() || faces.size() == 1) pieces.emplace_back();
        for (TopoDS_Iterator item(wire); item.More(); item.Next()) {
            if (!is_side(item.Value()) || uses[static_cast<std::size_t>(edges.FindIndex(item.Value()) - 1)] != 1)
                continue;
            const TopoDS_Edge& edge = TopoDS::Edge(item.Value());
            Piece piece;
            piece.segments = reader.segments(TopoDS::Edge(edge.Oriented(TopAbs_FORWARD)), boundary.straight);
            if (piece.segments.empty()) continue;
            if (edge.Orientation() == TopAbs_REVERSED) turn_round(piece.segments);
            TopExp::Vertices(edge, piece.first, piece.last, Standard_True);
            pieces.back().push_back(std::move(piece));
        }
    });
    for (std::vector<Piece>& own : pieces)
        if (const Status done = chain(own, boundary.contours); !done) return std::unexpected(done.error());
    if (boundary.contours.empty()) return fail("surface.degenerate", "The face has no edges.", "Choose another face.");
    return boundary;
}

Result<Boundary> boundary_of(const TopoDS_Face& face, const gp_Trsf& placing, const Frame& frame, double tolerance) {
    return boundary_of(std::span(&face, 1), placing, frame, tolerance);
}

Result<geometry::Outline> room_within(std::vector<geometry::Contour> contours, std::string_view face) {
    Result<geometry::Outline> room = geometry::outline_from(std::move(contours), {.fill = geometry::FillRule::evenodd});
    if (!room || room->empty())
        return fail("surface.degenerate", std::string(face) + " is too thin to carry a mark.", "Choose a larger face.");
    return room;
}

} // namespace touchmark::surface
