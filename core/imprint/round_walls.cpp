// SPDX-License-Identifier: MIT
#include "core/imprint/round_walls.h"

#include "core/base/quadrature.h"
#include "core/imprint/region_walls.h"
#include "core/imprint/strip.h"
#include "core/part/vectors.h"

#include <BRep_Builder.hxx>
#include <Geom2d_BezierCurve.hxx>
#include <Geom2d_Circle.hxx>
#include <Geom2d_Line.hxx>
#include <Geom_BSplineSurface.hxx>
#include <Geom_BezierCurve.hxx>
#include <Geom_Circle.hxx>
#include <Geom_ConicalSurface.hxx>
#include <Geom_CylindricalSurface.hxx>
#include <Geom_Line.hxx>
#include <Geom_Plane.hxx>
#include <TColStd_Array1OfInteger.hxx>
#include <TColStd_Array1OfReal.hxx>
#include <TColgp_Array1OfPnt.hxx>
#include <TColgp_Array1OfPnt2d.hxx>
#include <TColgp_Array2OfPnt.hxx>
#include <TopAbs.hxx>
#include <gp_Ax22d.hxx>
#include <gp_Circ.hxx>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace touchmark::imprint {
namespace {

using geometry::Contour;
using geometry::Region;
using surface::Unrolling;

constexpr double exact = 1e-7; // Precision::Confusion()
constexpr double turn = 2 * std::numbers::pi;

/// As the stored surface has it, left-handed where that is.
gp_Ax3 axes_of(const Unrolling& s, double along_axis) {
    gp_Ax3 axes(part::point(s.origin + s.z * along_axis), part::direction(s.z), part::direction(s.x));
    if (dot(cross(s.x, s.y), s.z) < 0) axes.YReverse();
    return axes;
}

/// The surface at a height over the one that is rolled out; a point keeps its parameters.
HostSurface parallel_surface(const Unrolling& s, double height) {
    const double away = height * s.outward;
    HostSurface out;
    if (s.sine == 0)
        out.surface = new Geom_CylindricalSurface(axes_of(s, 0), s.radius + away);
    else
        out.surface = new Geom_ConicalSurface(axes_of(s, -away * s.sine), std::atan2(s.sine, s.cosine),
                                              s.radius + away * s.cosine);
    return out;
}

/// The floor's orientation is the host's: their surfaces run alike.
TopAbs_Orientation orientation_of(const Unrolling& s) {
    const double handed = dot(cross(s.x, s.y), s.z) < 0 ? -1 : 1;
    return s.outward * s.nappe * handed > 0 ? TopAbs_FORWARD : TopAbs_REVERSED;
}

enum class Course { generator, circle, free };

/// Straight along the surface or round it, as far as can be measured.
Course course_of(const Unrolling& s, const ParameterCurve& curve) {
    double round = 0, along = 0;
    bool steady = true;
    for (std::size_t i = 1; i <= static_cast<std::size_t>(curve.degree); ++i) {
        const Vec2 d = curve.poles[i] - curve.start();
        round = std::max(round, std::abs(d.x * s.radius_at(curve.poles[i].y)));
        along = std::max(along, std::abs(d.y));
        const Vec2 step = curve.poles[i] - curve.poles[i - 1], whole = curve.end() - curve.start();
        steady = steady && step.x * whole.x >= 0 && step.y * whole.y >= 0;
    }
    constexpr double hair = 1e-9;
    if (!steady) return Course::free;
    if (round < hair) return Course::generator;
    if (along < hair && s.sine == 0) return Course::circle;
    return Course::free;
}

Handle(Geom2d_Curve) bezier_2d(const ParameterCurve& curve, double by) {
    TColgp_Array1OfPnt2d poles(1, curve.degree + 1);
    for (int k = 0; k <= curve.degree; ++k) {
        const Vec2 p = curve.poles[static_cast<std::size_t>(k)];
        poles(k + 1) = gp_Pnt2d(p.x + by, p.y);
    }
    return new Geom2d_BezierCurve(poles);
}

class RoundBuilder {
public:
    /// Rims at the height `rim` over the surface that is rolled out, feet at the height `foot`.
    RoundBuilder(const Unrolling& surface, const RoundHost& host, double rim, double foot)
        : s_(surface), host_(host), rim_(rim), foot_(foot), height_(std::abs(foot - rim)),
          floor_(parallel_surface(surface, foot)) {}

    /// How the rim's u is moved by whole turns to where the host has it.
    struct Turns {
        bool each_edge = false; ///< into the host's own turn, edge by edge
        double rim = 0, foot = 0;
    };

    [[nodiscard]] std::vector<LaidCurve> curves_of(const Contour& contour) const {
        std::vector<LaidCurve> curves;
        curves.reserve(contour.segments.size());
        for (const geometry::Segment& segment : contour.segments)
            for (const LaidCurve& curve : laid_curves(s_, segment, {rim_, foot_}))
                curves.push_back(curve);
        return curves;
    }

    void add(const std::vector<LaidCurve>& curves, const Turns& turns, TopoDS_Wire& rim, TopoDS_Wire& foot,
             std::vector<TopoDS_Face>& walls) {
        build_walls_around(
            curves.size(), [&](Strip& strip, std::size_t i) { stand(strip, curves[i].flat.start()); },
            [&](std::size_t i, Strip& strip, Strip& next) {
                Turns own = turns;
                if (turns.each_edge) own.rim = turn_of_edge(s_, host_, curves[i].flat);
                return span(curves[i], own, strip, next);
            },
            rim, foot, walls);
    }

    [[nodiscard]] const HostSurface& floor() const { return floor_; }

private:
    [[nodiscard]] gp_Pnt point(Vec2 uv, double height) const { return part::point(s_.point(uv, height)); }

    void stand(Strip& strip, Vec2 uv) {
        const gp_Pnt rim = point(uv, rim_), foot = point(uv, foot_);
        stand_upright(strip, rim, foot, gp_Dir(gp_Vec(rim, foot)), height_, exact);
    }

    void on_host(const TopoDS_Edge& edge, const ParameterCurve& along, double by, const Handle(Geom2d_Curve) & curve,
                 double tolerance) {
        const auto uv = [&](double part) { return along.at(part) + Vec2{by, 0}; };
        if (host_.lay_rim) return host_.lay_rim(edge, uv);
        if (host_.stored) return host_.stored->lay_on(edge, uv);
        lay_on(edge, curve, host_.surface.surface, host_.surface.location, tolerance);
    }
    void on_floor(const TopoDS_Edge& edge, const Handle(Geom2d_Curve) & curve, double tolerance) {
        lay_on(edge, curve, floor_.surface, floor_.location, tolerance);
    }
    void on_wall(const TopoDS_Edge& edge, const Handle(Geom2d_Curve) & curve, const Handle(Geom_Surface) & wall,
                 double tolerance) {
        lay_on(edge, curve, wall, TopLoc_Location(), tolerance);
    }

    TopoDS_Face span(const LaidCurve& curve, const Turns& turns, Strip& strip, Strip& next) {
        switch (course_of(s_, curve.flat)) {
        case Course::generator:
            return span_generator(curve.flat, turns, strip, next);
        case Course::circle:
            return span_circle(curve.flat, turns, strip, next);
        default:
            return span_free(curve, turns, strip, next);
        }
    }

    TopoDS_Face span_generator(const ParameterCurve& curve, const Turns& turns, Strip& strip, Strip& next) {
        const Vec2 a = curve.start(), b = curve.end();
        const double size = std::abs(b.y - a.y), way = b.y > a.y ? 1 : -1;
        const gp_Dir along = part::direction(s_.straight_direction(a.x) * way);
        const gp_Dir down(gp_Vec(point(a, rim_), point(a, foot_)));
        lay_edge(strip.rim, new Geom_Line(point(a, rim_), along), strip.rim_start, next.rim_start, 0, size, exact);
        lay_edge(strip.foot, new Geom_Line(point(a, foot_), along), strip.foot_start, next.foot_start, 0, size, exact);
        const gp_Dir2d straight(0, way);
        on_host(strip.rim, curve, turns.rim, new Geom2d_Line(gp_Pnt2d(a.x + turns.rim, a.y), straight), exact);
        on_floor(strip.foot, new Geom2d_Line(gp_Pnt2d(a.x + turns.foot, a.y), straight), exact);
        const Handle(Geom_Plane) wall = new Geom_Plane(gp_Ax3(point(a, rim_), along.Crossed(down), along));
        on_wall(strip.rim, new Geom2d_Line(gp_Pnt2d(0, 0), gp_Dir2d(1, 0)), wall, exact);
        on_wall(strip.foot, new Geom2d_Line(gp_Pnt2d(0, height_), gp_Dir2d(1, 0)), wall, exact);
        on_wall(strip.upright, new Geom2d_Line(gp_Pnt2d(0, 0), gp_Dir2d(0, 1)), wall, exact);
        on_wall(next.upright, new Geom2d_Line(gp_Pnt2d(size, 0), gp_Dir2d(0, 1)), wall, exact);
        return bare(wall);
    }

    /// Rim and foot are circles whose parameter is the angle u, or runs against it.
    TopoDS_Face span_circle(const ParameterCurve& curve, const Turns& turns, Strip& strip, Strip& next) {
        const Vec2 a = curve.start(), b = curve.end();
        const double way = b.x > a.x ? 1 : -1, span = std::abs(b.x - a.x);
        const Vec3 centre = s_.origin + s_.z * a.y, y = s_.y * way, axis = cross(s_.x, y);
        double first = std::fmod(a.x * way, turn);
        if (first < 0) first += turn;
        const auto circle = [&](double radius) {
            return gp_Circ(gp_Ax2(part::point(centre), part::direction(axis), part::direction(s_.x)), radius);
        };
        const double at_rim = s_.radius + rim_ * s_.outward, at_foot = s_.radius + foot_ * s_.outward;
        const bool away = at_foot > at_rim;
        lay_edge(strip.rim, new Geom_Circle(circle(at_rim)), strip.rim_start, next.rim_start, first, first + span,
                 exact);
        lay_edge(strip.foot, new Geom_Circle(circle(at_foot)), strip.foot_start, next.foot_start, first, first + span,
                 exact);
        const auto line = [&](double by) {
            return new Geom2d_Line(gp_Pnt2d(a.x + by - way * first, a.y), gp_Dir2d(way, 0));
        };
        on_host(strip.rim, curve, turns.rim, line(turns.rim), exact);
        on_floor(strip.foot, line(turns.foot), exact);
        // The wall's normal is along × down: round × radial.
        const Vec3 normal = axis * (away ? -1.0 : 1.0), wall_y = cross(normal, s_.x);
        const Handle(Geom_Plane) wall =
            new Geom_Plane(gp_Ax3(part::point(centre), part::direction(normal), part::direction(s_.x)));
        const gp_Ax22d flat(gp_Pnt2d(0, 0), gp_Dir2d(1, 0), dot(wall_y, y) > 0);
        on_wall(strip.rim, new Geom2d_Circle(flat, at_rim), wall, exact);
        on_wall(strip.foot, new Geom2d_Circle(flat, at_foot), wall, exact);
        const auto upright = [&](Vec2 uv) {
            const gp_Dir2d out(std::cos(uv.x), std::sin(uv.x) * dot(wall_y, s_.y));
            return new Geom2d_Line(gp_Pnt2d(out.XY() * at_rim), away ? out : out.Reversed());
        };
        on_wall(strip.upright, upright(a), wall, exact);
        on_wall(next.upright, upright(b), wall, exact);
        return bare(wall);
    }

    TopoDS_Face span_free(const LaidCurve& laid, const Turns& turns, Strip& strip, Strip& next) {
        const auto& [curve, rim, foot] = laid;
        TColgp_Array1OfPnt rim_poles(1, 6), foot_poles(1, 6);
        TColgp_Array2OfPnt poles(1, 6, 1, 2);
        for (int k = 0; k < 6; ++k) {
            poles(k + 1, 1) = rim_poles(k + 1) = part::point(rim.poles[static_cast<std::size_t>(k)]);
            poles(k + 1, 2) = foot_poles(k + 1) = part::point(foot.poles[static_cast<std::size_t>(k)]);
        }
        const double rim_off = std::max(exact, 1.5 * rim.off), foot_off = std::max(exact, 1.5 * foot.off);
        lay_edge(strip.rim, new Geom_BezierCurve(rim_poles), strip.rim_start, next.rim_start, 0, 1, rim_off);
        lay_edge(strip.foot, new Geom_BezierCurve(foot_poles), strip.foot_start, next.foot_start, 0, 1, foot_off);
        on_host(strip.rim, curve, turns.rim, bezier_2d(curve, turns.rim), rim_off);
        on_floor(strip.foot, bezier_2d(curve, turns.foot), foot_off);
        // v runs in mm like the uprights do.
        TColStd_Array1OfReal u(1, 2), v(1, 2);
        TColStd_Array1OfInteger u_fold(1, 2), v_fold(1, 2);
        u(1) = 0, u(2) = 1, v(1) = 0, v(2) = height_;
        u_fold.Init(6), v_fold.Init(2);
        const Handle(Geom_BSplineSurface) wall = new Geom_BSplineSurface(poles, u, v, u_fold, v_fold, 5, 1);
        on_wall(strip.rim, new Geom2d_Line(gp_Pnt2d(0, 0), gp_Dir2d(1, 0)), wall, rim_off);
        on_wall(strip.foot, new Geom2d_Line(gp_Pnt2d(0, height_), gp_Dir2d(1, 0)), wall, foot_off);
        on_wall(strip.upright, new Geom2d_Line(gp_Pnt2d(0, 0), gp_Dir2d(0, 1)), wall, exact);
        on_wall(next.upright, new Geom2d_Line(gp_Pnt2d(1, 0), gp_Dir2d(0, 1)), wall, exact);
        return bare(wall);
    }

    TopoDS_Face bare(const Handle(Geom_Surface) & wall) {
        TopoDS_Face face;
        builder_.MakeFace(face, wall, exact);
        return face;
    }

    BRep_Builder builder_;
    const Unrolling& s_;
    const RoundHost& host_;
    double rim_, foot_, height_;
    HostSurface floor_;
};

Walls walls_between(const Unrolling& unrolling, const RoundHost& host, std::span<const Region> regions,
                    std::span<const int> region_in, double rim_height, double foot_height) {
    const RoundBuilder ground(unrolling, host, rim_height, foot_height);
    std::vector<std::vector<LaidCurve>> holes;
    std::vector<double> hole_turns;
    std::vector<std::size_t> first_hole;
    for (const Region& region : regions) {
        first_hole.push_back(holes.size());
        for (const Contour& hole : region.holes) {
            holes.push_back(ground.curves_of(hole));
            hole_turns.push_back(turn_into(host, middle_angle(holes.back())));
        }
    }
    return walls_of_regions(regions.size(), [&](std::size_t i, Walls& out) {
        const BRep_Builder builder;
        RoundBuilder walls(ground);
        const std::vector<LaidCurve> outer = walls.curves_of(regions[i].outer);
        RoundBuilder::Turns turns{region_in[i] < 0, 0, turn_into(host, middle_angle(outer))};
        if (region_in[i] >= 0) turns.rim = hole_turns[static_cast<std::size_t>(region_in[i])];
        RegionRims& rims = out.rims.emplace_back();
        TopoDS_Face floor = face_on(walls.floor(), exact, orientation_of(unrolling));
        TopoDS_Wire foot;
        walls.add(outer, turns, rims.outer, foot, out.walls);
        builder.Add(floor, foot);
        for (std::size_t h = first_hole[i]; h < first_hole[i] + regions[i].holes.size(); ++h) {
            TopoDS_Wire hole_foot;
            walls.add(holes[h], {false, hole_turns[h], turns.foot}, rims.holes.emplace_back(), hole_foot, out.walls);
            builder.Add(floor, hole_foot);
        }
        out.floors.push_back(floor);
    });
}

} // namespace

double turn_into(const RoundHost& host, double u) {
    return -turn * std::floor((u - host.low) / turn);
}

/// An edge along the seam lies on that side of it where the region covers the seam.
double turn_of_edge(const Unrolling& unrolling, const RoundHost& host, const ParameterCurve& curve) {
    const double u = curve.at(0.5).x, turns = std::round((u - host.low) / turn);
    if (std::abs(u - host.low - turn * turns) > 1e-9) return turn_into(host, u);
    const bool up = curve.end().y > curve.start().y, left = up == (orientation_of(unrolling) == TopAbs_FORWARD);
    return -turn * (left ? turns : turns - 1);
}

double middle_angle(const std::vector<LaidCurve>& curves) {
    double low = 1e300, high = -1e300;
    for (const LaidCurve& laid : curves) {
        const ParameterCurve& curve = laid.flat;
        low = std::min({low, curve.start().x, curve.at(0.5).x});
        high = std::max({high, curve.start().x, curve.at(0.5).x});
    }
    return (low + high) / 2;
}

Walls build_round_walls(const Unrolling& unrolling, const RoundHost& host, std::span<const Region> regions,
                        std::span<const int> region_in, double offset) {
    return walls_between(unrolling, host, regions, region_in, 0, offset);
}

TopoDS_Solid build_round_prism(const Unrolling& unrolling, const Region& region, double bottom, double top) {
    const Vec2 middle = unrolling.parameters(geometry::bounds(region.outer).centre());
    const RoundHost ground{parallel_surface(unrolling, bottom), middle.x - turn / 2};
    constexpr std::array alone{-1};
    const Walls walls = walls_between(unrolling, ground, std::span(&region, 1), alone, bottom, top);
    const BRep_Builder builder;
    TopoDS_Face base = face_on(ground.surface, exact, TopAbs::Reverse(orientation_of(unrolling)));
    builder.Add(base, walls.rims[0].outer.Reversed());
    for (const TopoDS_Wire& hole : walls.rims[0].holes)
        builder.Add(base, hole.Reversed());
    return closed_body(walls, base);
}

double volume_between(const Unrolling& unrolling, const Region& region, double bottom, double top) {
    // (top − bottom) A + (top² − bottom²) / 2 ∫ dA / ρ. On a cylinder ρ is constant; on a cone at the distance q from
    // the apex it is q tan α, and ∫ dA / q = ∮ q dφ in polar coordinates about the apex.
    double area = geometry::area(region.outer), curved = 0;
    for (const Contour& hole : region.holes)
        area += geometry::area(hole);
    if (unrolling.sine == 0)
        curved = area / unrolling.radius * unrolling.outward;
    else {
        constexpr int pieces = 16;
        double sum = 0; // ∮ v du over the parameters, signed
        const auto add = [&](const Contour& contour) {
            for (const geometry::Segment& segment : contour.segments)
                for (int piece = 0; piece < pieces; ++piece)
                    for (const auto& [at, weight] : gauss_5) {
                        const double t = (piece + (at + 1) / 2) / pieces;
                        const auto jet = unrolling.parameters(
                            {geometry::point_at(segment, t), geometry::derivative_at(segment, t), {}});
                        sum += weight / 2 / pieces * (jet.at.y - unrolling.apex()) * jet.first.x;
                    }
        };
        add(region.outer);
        for (const Contour& hole : region.holes)
            add(hole);
        // dA / |q| = |sin α| |dq du|; 1 / ρ = 1 / (|q| |tan α|).
        curved = std::abs(sum) * unrolling.cosine * unrolling.outward * unrolling.nappe;
    }
    return (top - bottom) * area + (top * top - bottom * bottom) / 2 * curved;
}

} // namespace touchmark::imprint
