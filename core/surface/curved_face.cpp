// SPDX-License-Identifier: MIT
#include "core/surface/curved_face.h"

#include "core/geometry/outline.h"
#include "core/part/vectors.h"

#include <BRep_Tool.hxx>
#include <Geom2d_Curve.hxx>
#include <Geom2d_Line.hxx>
#include <Geom_BSplineSurface.hxx>
#include <Geom_RectangularTrimmedSurface.hxx>
#include <Geom_SphericalSurface.hxx>
#include <TColStd_Array1OfReal.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Iterator.hxx>
#include <TopoDS_Vertex.hxx>

#include <algorithm>
#include <atomic>
#include <cmath>

namespace touchmark::surface {
namespace {

using geometry::Polygon;

constexpr double fine = 5e-4; // mm

std::unexpected<Error> degenerate(const char* why) {
    return fail("surface.degenerate", why, "Repair the part in the design program, or choose another face.");
}

struct Trace {
    Handle(Geom2d_Curve) curve;
    double from = 0, to = 0; ///< as the edge runs
    [[nodiscard]] Vec2 at(double s) const {
        const gp_Pnt2d p = curve->Value(from + (to - from) * s);
        return {p.X(), p.Y()};
    }
};

std::optional<Trace> trace_of(const TopoDS_Edge& edge, const TopoDS_Face& face) {
    Trace trace;
    trace.curve = BRep_Tool::CurveOnSurface(edge, face, trace.from, trace.to);
    if (trace.curve.IsNull()) return std::nullopt;
    if (edge.Orientation() == TopAbs_REVERSED) std::swap(trace.from, trace.to);
    return trace;
}

/// Between two parameters, the start without the end.
void sample(const Trace& trace, Vec2 scale, double from, double to, int depth, Polygon& out) {
    const Vec2 a = trace.at(from), b = trace.at(to);
    double off = 0;
    for (const double s : {0.25, 0.5, 0.75}) {
        const Vec2 d = trace.at(from + (to - from) * s) - (a + (b - a) * s);
        off = std::max(off, std::hypot(d.x * scale.x, d.y * scale.y));
    }
    constexpr int deepest = 9, shallowest = 2;
    if (depth >= shallowest && (off < fine || depth == deepest)) {
        out.push_back(a);
        return;
    }
    sample(trace, scale, from, (from + to) / 2, depth + 1, out);
    sample(trace, scale, (from + to) / 2, to, depth + 1, out);
}

Polygon sampled(const Trace& trace, Vec2 scale) {
    Polygon points;
    if (Handle(Geom2d_Line)::DownCast(trace.curve).IsNull())
        sample(trace, scale, 0, 1, 0, points);
    else
        points.push_back(trace.at(0));
    points.push_back(trace.at(1));
    return points;
}

double apart(Vec2 a, Vec2 b, Vec2 scale) {
    return std::hypot((a.x - b.x) * scale.x, (a.y - b.y) * scale.y);
}

/// One after the other by where they end; gaps of the file's tolerance are closed by straight lines.
bool chain(std::vector<Polygon> pieces, Vec2 scale, std::vector<Polygon>& loops) {
    constexpr double closed = 1e-5, reach = 0.05;
    while (!pieces.empty()) {
        Polygon loop = std::move(pieces.back());
        pieces.pop_back();
        while (apart(loop.back(), loop.front(), scale) > closed) {
            const auto next = std::ranges::min_element(
                pieces, {}, [&](const Polygon& piece) { return apart(piece.front(), loop.back(), scale); });
            const double gap = next == pieces.end() ? 1e300 : apart(next->front(), loop.back(), scale);
            if (gap > reach && apart(loop.back(), loop.front(), scale) <= reach) break;
            if (gap > reach) return false;
            loop.insert(loop.end(), next->begin() + 1, next->end());
            pieces.erase(next);
        }
        loop.pop_back();
        if (loop.size() > 2) loops.push_back(std::move(loop));
    }
    return !loops.empty();
}

/// mm a unit of each parameter, the larger of some places: a boundary that is fine there is fine everywhere.
Vec2 scale_over(const CurvedFace& face) {
    const SurfaceEvaluator surface(face, face.placing);
    Vec2 scale;
    for (const double s : {0.1, 0.5, 0.9})
        for (const double t : {0.1, 0.5, 0.9}) {
            const auto at = surface.first(
                {face.domain.low.x + face.domain.width() * s, face.domain.low.y + face.domain.height() * t});
            scale = {std::max(scale.x, length(at.du)), std::max(scale.y, length(at.dv))};
        }
    return scale;
}

/// The face and its neighbours a period away grown together. Coordinates are put on a grid that a period is a whole
/// number of steps of, so that common edges coincide.
std::vector<Polygon> glued(const CurvedFace& face) {
    const auto steps = [](double period, double scale) {
        return period > 0 ? period * scale / std::ldexp(1.0, 26) : 1e-7;
    };
    const Vec2 grid{steps(face.period.x, face.scale.x), steps(face.period.y, face.scale.y)};
    const int across = face.period.x > 0 ? 1 : 0, along = face.period.y > 0 ? 1 : 0;
    geometry::Outline all;
    for (int i = -across; i <= across; ++i)
        for (int j = -along; j <= along; ++j) {
            std::vector<geometry::Contour> contours;
            for (const Polygon& loop : face.loops) {
                Polygon moved;
                for (const Vec2 p : loop) {
                    const auto on_grid = [](double x, double unit, double period_steps) {
                        return (std::round(x / unit) + period_steps) * unit;
                    };
                    const Vec2 q{on_grid(p.x * face.scale.x, grid.x, i * std::ldexp(1.0, 26)),
                                 on_grid(p.y * face.scale.y, grid.y, j * std::ldexp(1.0, 26))};
                    if (moved.empty() || q != moved.back()) moved.push_back(q);
                }
                contours.push_back(geometry::contour_of(moved));
            }
            geometry::NormaliseOptions options;
            options.fill = geometry::FillRule::evenodd;
            auto copy = geometry::outline_from(std::move(contours), options);
            if (copy) all = all.empty() ? std::move(*copy) : geometry::united(all, *copy, fine);
        }
    std::vector<Polygon> polygons = geometry::flattened(all, fine);
    for (Polygon& polygon : polygons)
        for (Vec2& p : polygon)
            p = {p.x / face.scale.x, p.y / face.scale.y};
    return polygons;
}

/// The knots within [low, high] at which a spline is less than three times smooth.
template <class Knot, class Multiplicity>
std::vector<double> rough_knots(int count, int degree, double period, double low, double high, Knot&& knot,
                                Multiplicity&& multiplicity) {
    std::vector<double> breaks;
    for (int turns = period > 0 ? -2 : 0; turns <= (period > 0 ? 2 : 0); ++turns)
        for (int i = 1; i <= count; ++i)
            if (const double at = knot(i) + turns * period;
                degree - multiplicity(i) < 3 && at > low && at < high && (breaks.empty() || at > breaks.back() + 1e-12))
                breaks.push_back(at);
    return breaks;
}

void find_breaks(CurvedFace& face) {
    const auto low = [](double at, double period) { return at - (period > 0 ? period / 2 : 0.1); };
    const auto high = [](double at, double period) { return at + (period > 0 ? period / 2 : 0.1); };
    const Box2& d = face.domain;
    const double low_u = low(d.low.x, face.period.x), high_u = high(d.high.x, face.period.x),
                 low_v = low(d.low.y, face.period.y), high_v = high(d.high.y, face.period.y);
    if (const auto s = Handle(Geom_BSplineSurface)::DownCast(face.surface); !s.IsNull()) {
        face.breaks_u = rough_knots(
            s->NbUKnots(), s->UDegree(), face.period.x, low_u, high_u, [&](int i) { return s->UKnot(i); },
            [&](int i) { return s->UMultiplicity(i); });
        face.breaks_v = rough_knots(
            s->NbVKnots(), s->VDegree(), face.period.y, low_v, high_v, [&](int i) { return s->VKnot(i); },
            [&](int i) { return s->VMultiplicity(i); });
        return;
    }
    const GeomAdaptor_Surface surface(face.surface);
    const auto ends = [&](bool in_u, double from, double to) {
        std::vector<double> breaks;
        const int count = in_u ? surface.NbUIntervals(GeomAbs_C3) : surface.NbVIntervals(GeomAbs_C3);
        TColStd_Array1OfReal at(1, count + 1);
        in_u ? surface.UIntervals(at, GeomAbs_C3) : surface.VIntervals(at, GeomAbs_C3);
        for (int i = 2; i <= count; ++i)
            if (at(i) > from && at(i) < to) breaks.push_back(at(i));
        return breaks;
    };
    face.breaks_u = ends(true, low_u, high_u);
    face.breaks_v = ends(false, low_v, high_v);
}

void find_poles(const TopoDS_Face& shape, CurvedFace& face, const gp_Trsf& placing) {
    for (TopExp_Explorer edge(shape, TopAbs_EDGE); edge.More(); edge.Next())
        if (BRep_Tool::Degenerated(TopoDS::Edge(edge.Current())))
            if (const TopoDS_Vertex at = TopExp::FirstVertex(TopoDS::Edge(edge.Current())); !at.IsNull())
                face.poles.push_back(part::vec(BRep_Tool::Pnt(at).Transformed(placing)));
    if (const auto sphere = Handle(Geom_SphericalSurface)::DownCast(face.surface); !sphere.IsNull())
        for (const double v : {-M_PI_2, M_PI_2})
            face.poles.push_back(part::vec(sphere->Value(0, v).Transformed(face.placing)));
}

} // namespace

Vec2 CurvedFace::clamped(Vec2 uv) const {
    const auto within = [](double at, double low, double high, double turn) {
        return turn > 0 ? at : std::clamp(at, low, high);
    };
    return {within(uv.x, domain.low.x, domain.high.x, period.x), within(uv.y, domain.low.y, domain.high.y, period.y)};
}

Result<std::vector<Polygon>> parameter_loops(const TopoDS_Face& shape, Vec2 scale) {
    const TopoDS_Face face = TopoDS::Face(shape.Oriented(TopAbs_FORWARD));
    std::vector<Polygon> loops;
    for (TopoDS_Iterator wire(face); wire.More(); wire.Next()) {
        std::vector<Polygon> pieces;
        for (TopoDS_Iterator item(wire.Value()); item.More(); item.Next()) {
            const TopAbs_Orientation way = item.Value().Orientation();
            if (item.Value().ShapeType() != TopAbs_EDGE || (way != TopAbs_FORWARD && way != TopAbs_REVERSED)) continue;
            const auto trace = trace_of(TopoDS::Edge(item.Value()), face);
            if (!trace) return degenerate("An edge of the face does not lie on its surface.");
            pieces.push_back(sampled(*trace, scale));
        }
        if (pieces.empty()) continue;
        // Chained from the back; the order does not matter, the directions do.
        if (!chain(std::move(pieces), scale, loops)) return degenerate("The face's edges do not close.");
    }
    if (loops.empty()) return degenerate("The face has no edges.");
    return loops;
}

std::optional<Vec2> parameter_point(const TopoDS_Shape& wire, const TopoDS_Face& shape) {
    const TopoDS_Face face = TopoDS::Face(shape.Oriented(TopAbs_FORWARD));
    for (TopoDS_Iterator item(wire); item.More(); item.Next())
        if (item.Value().ShapeType() == TopAbs_EDGE)
            if (const auto trace = trace_of(TopoDS::Edge(item.Value()), face)) return trace->at(0);
    return std::nullopt;
}

Result<CurvedFace> curved_face(const TopoDS_Face& shape, const gp_Trsf& placing) {
    CurvedFace face;
    face.surface = BRep_Tool::Surface(shape, face.location);
    while (const auto trimmed = Handle(Geom_RectangularTrimmedSurface)::DownCast(face.surface))
        face.surface = trimmed->BasisSurface();
    face.placing = placing * face.location.Transformation();
    face.side = shape.Orientation() == TopAbs_REVERSED ? -1 : 1;
    if (face.surface->IsUPeriodic()) face.period.x = face.surface->UPeriod();
    if (face.surface->IsVPeriodic()) face.period.y = face.surface->VPeriod();
    auto rough = parameter_loops(shape, {1, 1});
    if (!rough) return std::unexpected(rough.error());
    for (const Polygon& loop : *rough)
        for (const Vec2 p : loop)
            face.domain.add(p);
    if (face.domain.width() <= 0 || face.domain.height() <= 0) return degenerate("The face has no area.");
    face.scale = scale_over(face);
    if (!(face.scale.x > 0) || !(face.scale.y > 0)) return degenerate("The face's surface is collapsed.");
    auto loops = parameter_loops(shape, face.scale);
    if (!loops) return std::unexpected(loops.error());
    face.loops = std::move(*loops);
    const bool round = (face.period.x > 0 && face.domain.width() > face.period.x * (1 - 1e-6)) ||
                       (face.period.y > 0 && face.domain.height() > face.period.y * (1 - 1e-6));
    face.area = round ? glued(face) : face.loops;
    find_poles(shape, face, placing);
    find_breaks(face);
    static std::atomic<std::uint64_t> made{0};
    face.id = ++made;
    return face;
}

SurfaceEvaluator::SurfaceEvaluator(const CurvedFace& face, const gp_Trsf& to)
    : surface_(face.surface), side_(face.side), inwards_(face.domain.centre()) {
    const auto column = [&](double x, double y, double z) { return part::vec(gp_Vec(x, y, z).Transformed(to)); };
    x_ = column(1, 0, 0), y_ = column(0, 1, 0), z_ = column(0, 0, 1);
    origin_ = part::vec(gp_Pnt(0, 0, 0).Transformed(to));
    // A mirroring turns ∂u × ∂v the other way.
    if (dot(cross(x_, y_), z_) < 0) side_ = -side_;
}

SurfaceEvaluator::First SurfaceEvaluator::first(Vec2 uv) const {
    gp_Pnt p;
    gp_Vec du, dv;
    surface_.D1(uv.x, uv.y, p, du, dv);
    return {carried(p), carried(du), carried(dv)};
}

SurfaceEvaluator::Second SurfaceEvaluator::second(Vec2 uv) const {
    gp_Pnt p;
    gp_Vec du, dv, duu, dvv, duv;
    surface_.D2(uv.x, uv.y, p, du, dv, duu, dvv, duv);
    return {carried(p), carried(du), carried(dv), carried(duu), carried(duv), carried(dvv)};
}

Vec3 SurfaceEvaluator::normal(const Vec3& du, const Vec3& dv) const {
    const Vec3 across = cross(du, dv);
    const double size = length(across);
    return size > 1e-9 * dot(du, du) + 1e-9 * dot(dv, dv) && size > 0 ? across * (side_ / size) : Vec3{};
}

SurfaceEvaluator::Place SurfaceEvaluator::place(Vec2 uv) const {
    const First at = first(uv);
    Vec3 out = normal(at.du, at.dv);
    for (double s = 1e-6; s < 0.5 && out == Vec3{}; s *= 10) {
        const First beside = first(uv + (inwards_ - uv) * s);
        out = normal(beside.du, beside.dv);
    }
    return {at.point, out};
}

const SurfaceEvaluator& evaluator_of(const CurvedFace& face) {
    thread_local std::uint64_t whose = 0;
    thread_local std::optional<SurfaceEvaluator> evaluator;
    if (whose != face.id || face.id == 0) {
        evaluator.emplace(face, face.placing);
        whose = face.id;
    }
    return *evaluator;
}

Curvatures curvatures(const SurfaceEvaluator::Second& at, const Vec3& normal) {
    const double e = dot(at.du, at.du), f = dot(at.du, at.dv), g = dot(at.dv, at.dv), det = e * g - f * f;
    if (!(det > 0)) return {};
    const double l = -dot(at.duu, normal), m = -dot(at.duv, normal), n = -dot(at.dvv, normal);
    const double mean = (e * n - 2 * f * m + g * l) / (2 * det), gauss = (l * n - m * m) / det;
    const double half = std::sqrt(std::max(0.0, mean * mean - gauss));
    return {mean - half, mean + half};
}

} // namespace touchmark::surface
