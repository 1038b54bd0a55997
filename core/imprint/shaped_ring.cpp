// SPDX-License-Identifier: MIT
#include "core/imprint/shaped_ring.h"

#include "core/imprint/strip.h"
#include "core/part/vectors.h"

#include <Geom2d_BSplineCurve.hxx>
#include <Geom2d_BezierCurve.hxx>
#include <Geom2d_Circle.hxx>
#include <Geom2d_Line.hxx>
#include <Geom_BSplineCurve.hxx>
#include <Geom_BezierCurve.hxx>
#include <Geom_Circle.hxx>
#include <Geom_Ellipse.hxx>
#include <TColStd_Array1OfInteger.hxx>
#include <TColStd_Array1OfReal.hxx>
#include <TColgp_Array1OfPnt.hxx>
#include <TColgp_Array1OfPnt2d.hxx>

#include <cmath>

namespace touchmark::imprint {
namespace {

using geometry::InsetContour;
using geometry::InsetJoint;
using geometry::InsetSide;
using geometry::Segment;

constexpr int degree = 7;
constexpr double exact = 1e-7; // Precision::Confusion()
constexpr double close = 5e-8; // mm that a fit may be off
constexpr double rough = 2e-5; // mm, more than that is no edge of these walls

Handle(Geom_Curve)
    curve_of(const WallGround& ground, const InsetSide& side, const SideFit& fit, const WallLevel& level) {
    if (level.inset == 0) {
        TColgp_Array1OfPnt poles(1, side.curve.degree + 1);
        for (int k = 0; k <= side.curve.degree; ++k)
            poles(k + 1) = part::point(ground.at(side.curve.points[static_cast<std::size_t>(k)], level.depth));
        return new Geom_BezierCurve(poles);
    }
    TColgp_Array1OfPnt poles(1, static_cast<int>(fit.places.size()));
    for (std::size_t k = 0; k < fit.places.size(); ++k)
        poles(static_cast<int>(k) + 1) = part::point(ground.at(fit.places[k] + fit.ways[k] * level.inset, level.depth));
    TColStd_Array1OfReal knots(1, fit.pieces + 1);
    TColStd_Array1OfInteger folds(1, fit.pieces + 1);
    knots_of(fit.pieces, 0, 1, knots, folds);
    return new Geom_BSplineCurve(poles, knots, folds, degree);
}

TopoDS_Vertex vertex_at(const Vec3& p) {
    TopoDS_Vertex vertex;
    BRep_Builder().MakeVertex(vertex, part::point(p), exact);
    return vertex;
}

TopoDS_Edge side_edge(const WallGround& ground, const ShapedContour& contour, const Ring& ring, std::size_t i) {
    const InsetSide& side = contour.inset.sides()[i];
    const auto [from, to] = ring.ranges[i];
    const TopoDS_Vertex &start = ring.joints[i].after, &end = ring.joints[(i + 1) % ring.joints.size()].before;
    TopoDS_Edge edge;
    if (side.is_line()) {
        const gp_Pnt a = part::point(ground.at(side.at(from, ring.level.inset), ring.level.depth)),
                     b = part::point(ground.at(side.at(to, ring.level.inset), ring.level.depth));
        lay_edge(edge, new Geom_Line(a, gp_Dir(gp_Vec(a, b))), start, end, 0, a.Distance(b), exact);
    } else {
        lay_edge(edge, curve_of(ground, side, contour.fits[i], ring.level), start, end, from, to, exact);
    }
    return edge;
}

TopoDS_Edge arc_edge(const WallGround& ground, const InsetJoint& joint, const Ring& ring, const Ring::Joint& ends) {
    const gp_Ax2 axes(part::point(ground.at(joint.corner, ring.level.depth)), part::direction(-ground.frame.z),
                      part::direction(ground.along(joint.before)));
    TopoDS_Edge edge;
    lay_edge(edge, new Geom_Circle(axes, ring.level.inset), ends.before, ends.after, 0, std::abs(joint.turn), exact);
    return edge;
}

/// One that moves straight or along an arc in an upright plane, to where `way` leads.
Rise plain_rise(const WallGround& ground, const WallBand& band, Vec2 corner, Vec2 way, const TopoDS_Vertex& start,
                const TopoDS_Vertex& end) {
    Rise rise;
    rise.from = ground.at(corner + way * band.from.inset, band.from.depth);
    rise.to = ground.at(corner + way * band.to.inset, band.to.depth);
    if (!band.round) {
        rise.length = distance(rise.from, rise.to);
        lay_edge(rise.edge, new Geom_Line(part::point(rise.from), part::direction(rise.to - rise.from)), start, end, 0,
                 rise.length, exact);
        return rise;
    }
    rise.kind = Rise::Kind::conic;
    const double wide = length(way);
    const Vec3 back = ground.along(way) * (-1 / wide), down = ground.frame.z * ground.way;
    const gp_Ax2 axes(part::point(ground.at(corner + way * band.centre.inset, band.centre.depth)),
                      part::direction(cross(back, down)), part::direction(back));
    constexpr double same = 1e-12;
    Handle(Geom_Curve) curve;
    if (wide > 1 + same)
        curve = new Geom_Ellipse(axes, band.radius * wide, band.radius);
    else
        curve = new Geom_Circle(axes, band.radius);
    lay_edge(rise.edge, curve, start, end, band.q_from, band.q_to, exact);
    return rise;
}

/// Where two walls meet of which at least one is bent.
class MeetingFit {
public:
    MeetingFit(const WallGround& ground, const InsetContour& contour, std::size_t joint, const WallBand& band)
        : ground_(ground), contour_(contour), joint_(joint), band_(band),
          a_(contour.sides()[(joint + contour.sides().size() - 1) % contour.sides().size()]),
          b_(contour.sides()[joint]) {}

    /// In so many pieces; false where the sides do not meet.
    bool fit(int pieces) {
        rise_ = {};
        rise_.kind = Rise::Kind::fitted;
        rise_.pieces = pieces;
        off_ = 0;
        for (int piece = 0; piece < pieces; ++piece) {
            SepticPoles<Vec3> places{};
            SepticPoles<double> before{}, after{};
            const auto part = [&](double w) { return (piece + w) / pieces; };
            for (std::size_t i = 0; i < Septic::count; ++i) {
                const WallLevel level = at(part(Septic::node(i)));
                const auto met = contour_.meeting(joint_, level.inset);
                if (!met) return false;
                places[i] = ground_.at(met->at, level.depth);
                before[i] = met->before;
                after[i] = met->after;
            }
            places = poles_through(places);
            before = poles_through(before);
            after = poles_through(after);
            for (const double w : {0.02, 0.12, 0.31, 0.5, 0.69, 0.88, 0.98}) {
                const WallLevel level = at(part(w));
                const Vec3 p = value_of(places, w);
                off_ = std::max({off_, distance(p, ground_.at(a_.at(value_of(before, w), level.inset), level.depth)),
                                 distance(p, ground_.at(b_.at(value_of(after, w), level.inset), level.depth))});
            }
            append_piece(rise_.poles, places);
            append_piece(rise_.before, before);
            append_piece(rise_.after, after);
        }
        return true;
    }
    [[nodiscard]] double off() const { return off_; }
    [[nodiscard]] Rise rise(const TopoDS_Vertex& start, const TopoDS_Vertex& end) {
        rise_.from = rise_.poles.front();
        rise_.to = rise_.poles.back();
        rise_.tolerance = std::max(exact, 1.5 * off_ + close);
        TColgp_Array1OfPnt poles(1, static_cast<int>(rise_.poles.size()));
        for (std::size_t k = 0; k < rise_.poles.size(); ++k)
            poles(static_cast<int>(k) + 1) = part::point(rise_.poles[k]);
        TColStd_Array1OfReal knots(1, rise_.pieces + 1);
        TColStd_Array1OfInteger folds(1, rise_.pieces + 1);
        knots_of(rise_.pieces, 0, 1, knots, folds);
        lay_edge(rise_.edge, new Geom_BSplineCurve(poles, knots, folds, degree), start, end, 0, 1, rise_.tolerance);
        return std::move(rise_);
    }

private:
    [[nodiscard]] WallLevel at(double w) const { return band_.at(band_.q_from + (band_.q_to - band_.q_from) * w); }

    const WallGround& ground_;
    const InsetContour& contour_;
    std::size_t joint_;
    const WallBand& band_;
    const InsetSide &a_, &b_;
    Rise rise_;
    double off_ = 0;
};

std::optional<Rise> fitted_rise(const WallGround& ground, const InsetContour& contour, std::size_t joint,
                                const WallBand& band, const TopoDS_Vertex& start, const TopoDS_Vertex& end) {
    MeetingFit fit(ground, contour, joint, band);
    constexpr int most = 32;
    for (int pieces = 1; pieces <= most; pieces *= 2) {
        if (!fit.fit(pieces)) return std::nullopt;
        if (fit.off() <= close) break;
    }
    if (fit.off() > rough) return std::nullopt;
    return fit.rise(start, end);
}

} // namespace

std::optional<SideFit> fitted_side(const InsetSide& side, double distance) {
    SideFit fit;
    if (side.is_line()) return fit;
    constexpr int most = 64;
    for (fit.pieces = 1; fit.pieces <= most; fit.pieces *= 2) {
        fit.places.clear();
        fit.ways.clear();
        fit.off = 0;
        const double size = 1.0 / fit.pieces;
        for (int piece = 0; piece < fit.pieces; ++piece) {
            SepticPoles<Vec2> places{}, ways{};
            for (std::size_t i = 0; i < Septic::count; ++i) {
                const double t = size * (piece + Septic::node(i));
                places[i] = geometry::point_at(side.curve, t);
                ways[i] = side.way(t);
            }
            places = poles_through(places);
            ways = poles_through(ways);
            append_piece(fit.places, places);
            append_piece(fit.ways, ways);
            for (const double w : {0.03, 0.12, 0.3, 0.5, 0.7, 0.88, 0.97})
                fit.off = std::max(fit.off, touchmark::distance(value_of(ways, w), side.way(size * (piece + w))));
        }
        if (fit.off * distance <= close) return fit;
    }
    return std::nullopt;
}

std::optional<Ring> ring_at(const WallGround& ground, const ShapedContour& contour, const WallLevel& level) {
    const std::size_t count = contour.inset.sides().size();
    Ring ring;
    ring.level = level;
    ring.joints.resize(count);
    ring.sides.resize(count);
    ring.ranges.resize(count);
    for (std::size_t i = 0; i < count; ++i) {
        const InsetJoint& joint = contour.inset.joints()[i];
        Ring::Joint& ends = ring.joints[i];
        if (joint.kind == InsetJoint::Kind::meet && level.inset > 0) {
            const auto at = contour.inset.meeting(i, level.inset);
            if (!at) return std::nullopt;
            ring.ranges[(i + count - 1) % count].to = at->before;
            ring.ranges[i].from = at->after;
            ends.before = ends.after = vertex_at(ground.at(at->at, level.depth));
            continue;
        }
        ends.before = ends.after = vertex_at(ground.at(joint.corner + joint.before * level.inset, level.depth));
        if (joint.kind != InsetJoint::Kind::open || level.inset == 0) continue;
        ends.after = vertex_at(ground.at(joint.corner + joint.after * level.inset, level.depth));
        ends.arc = arc_edge(ground, joint, ring, ends);
    }
    for (std::size_t i = 0; i < count; ++i) {
        if (!(ring.ranges[i].to > ring.ranges[i].from)) return std::nullopt;
        ring.sides[i] = side_edge(ground, contour, ring, i);
    }
    return ring;
}

Handle(Geom2d_Curve) flat_side(const ShapedContour& contour, const Ring& ring, std::size_t i) {
    const InsetSide& side = contour.inset.sides()[i];
    const auto flat = [](Vec2 p) { return gp_Pnt2d(p.x, p.y); };
    if (side.is_line()) {
        const gp_Pnt2d a = flat(side.at(ring.ranges[i].from, ring.level.inset)),
                       b = flat(side.at(ring.ranges[i].to, ring.level.inset));
        return new Geom2d_Line(a, gp_Dir2d(gp_Vec2d(a, b)));
    }
    if (ring.level.inset == 0) {
        TColgp_Array1OfPnt2d poles(1, side.curve.degree + 1);
        for (int k = 0; k <= side.curve.degree; ++k)
            poles(k + 1) = flat(side.curve.points[static_cast<std::size_t>(k)]);
        return new Geom2d_BezierCurve(poles);
    }
    const SideFit& fit = contour.fits[i];
    TColgp_Array1OfPnt2d poles(1, static_cast<int>(fit.places.size()));
    for (std::size_t k = 0; k < fit.places.size(); ++k)
        poles(static_cast<int>(k) + 1) = flat(fit.places[k] + fit.ways[k] * ring.level.inset);
    TColStd_Array1OfReal knots(1, fit.pieces + 1);
    TColStd_Array1OfInteger folds(1, fit.pieces + 1);
    knots_of(fit.pieces, 0, 1, knots, folds);
    return new Geom2d_BSplineCurve(poles, knots, folds, degree);
}

Handle(Geom2d_Curve) flat_arc(const InsetJoint& joint, double radius) {
    constexpr bool counter_clockwise = false;
    return new Geom2d_Circle(
        gp_Ax22d(gp_Pnt2d(joint.corner.x, joint.corner.y), gp_Dir2d(joint.before.x, joint.before.y), counter_clockwise),
        radius);
}

std::optional<Rises> rises_at(const WallGround& ground, const ShapedContour& contour, std::size_t i,
                              const WallBand& band, const Ring& top, const Ring& foot) {
    const InsetJoint& joint = contour.inset.joints()[i];
    const Ring::Joint &start = top.joints[i], &end = foot.joints[i];
    Rises rises;
    if (joint.kind == InsetJoint::Kind::meet && !band.upright()) {
        const auto fitted = fitted_rise(ground, contour.inset, i, band, start.before, end.before);
        if (!fitted) return std::nullopt;
        rises.before = rises.after = *fitted;
        return rises;
    }
    rises.before = plain_rise(ground, band, joint.corner, joint.before, start.before, end.before);
    const bool parts = joint.kind == InsetJoint::Kind::open && !band.upright();
    rises.after = parts ? plain_rise(ground, band, joint.corner, joint.after, start.after, end.after) : rises.before;
    return rises;
}

} // namespace touchmark::imprint
