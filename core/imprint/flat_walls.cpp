// SPDX-License-Identifier: MIT
#include "core/imprint/flat_walls.h"

#include "core/imprint/freeform_curve.h"
#include "core/imprint/parameter_integral.h"
#include "core/imprint/round_curve.h"
#include "core/imprint/strip.h"
#include "core/part/vectors.h"

#include <BRep_Builder.hxx>
#include <Geom2d_BSplineCurve.hxx>
#include <Geom2d_BezierCurve.hxx>
#include <Geom2d_Line.hxx>
#include <Geom_BezierCurve.hxx>
#include <Geom_Line.hxx>
#include <Geom_Plane.hxx>
#include <Geom_SurfaceOfLinearExtrusion.hxx>
#include <TColStd_Array1OfInteger.hxx>
#include <TColStd_Array1OfReal.hxx>
#include <TColgp_Array1OfPnt.hxx>
#include <TColgp_Array1OfPnt2d.hxx>

#include <algorithm>
#include <cmath>

namespace touchmark::imprint {
namespace {

using geometry::Contour;
using geometry::Region;

constexpr double exact = 1e-7; // Precision::Confusion()
constexpr double hair = 1e-9;  // mm, rounding of what is straight

template <class Point> using Poles = std::array<Point, 6>;

/// A piece of a rim as quintics, in the parameters of its surface and in the product.
struct RimCurve {
    Poles<Vec2> uv;
    Poles<Vec3> rim;
    double off = 0;
};

Poles<Vec2> quintic(const ParameterCurve& curve) {
    Poles<Vec2> poles = curve.poles;
    for (int degree = curve.degree; degree < 5; ++degree)
        for (std::size_t i = static_cast<std::size_t>(degree) + 1; i > 0; --i) {
            const double part = static_cast<double>(i) / (degree + 1);
            poles[i] =
                i == static_cast<std::size_t>(degree) + 1 ? poles[i - 1] : poles[i - 1] * part + poles[i] * (1 - part);
        }
    return poles;
}

std::vector<LaidCurve> round_curves(const Site& site, const Contour& contour) {
    std::vector<LaidCurve> curves;
    for (const geometry::Segment& segment : contour.segments)
        for (const LaidCurve& curve : laid_curves(*site.unrolling, segment, {0, 0}))
            curves.push_back(curve);
    return curves;
}

/// `turn_of(curve)`: by what u is to be moved on the host.
template <class TurnOf> std::vector<RimCurve> rims_of(const std::vector<LaidCurve>& curves, TurnOf&& turn_of) {
    std::vector<RimCurve> rims;
    for (const LaidCurve& curve : curves) {
        RimCurve& rim = rims.emplace_back(RimCurve{quintic(curve.flat), curve.low.poles, curve.low.off});
        const double turn = turn_of(curve.flat);
        for (Vec2& pole : rim.uv)
            pole.x += turn;
    }
    return rims;
}

std::vector<RimCurve> rims_of(const Site& site, const Contour& contour) {
    std::vector<RimCurve> rims;
    if (site.unrolling) return rims_of(round_curves(site, contour), [](const ParameterCurve&) { return 0.0; });
    for (const CarriedCurve& curve : CurveCarrier(site, 0, 0).carried(contour))
        rims.push_back({curve.uv, curve.rim, curve.rim_off});
    return rims;
}

template <class Point> bool evenly_straight(const Poles<Point>& poles, double within) {
    for (std::size_t k = 1; k < 5; ++k)
        if (distance(poles[k], poles[0] + (poles[5] - poles[0]) * (static_cast<double>(k) / 5)) > within) return false;
    return true;
}

Handle(Geom2d_Curve) bezier_2d(const Poles<Vec2>& from) {
    TColgp_Array1OfPnt2d poles(1, 6);
    for (int k = 0; k < 6; ++k)
        poles(k + 1) = gp_Pnt2d(from[static_cast<std::size_t>(k)].x, from[static_cast<std::size_t>(k)].y);
    return new Geom2d_BezierCurve(poles);
}

Handle(Geom_Curve) bezier(const Poles<Vec3>& from) {
    TColgp_Array1OfPnt poles(1, 6);
    for (int k = 0; k < 6; ++k)
        poles(k + 1) = part::point(from[static_cast<std::size_t>(k)]);
    return new Geom_BezierCurve(poles);
}

/// From one to the other while the parameter runs from 0 to `length`.
Handle(Geom2d_Curve) straight_2d(Vec2 from, Vec2 to, double length) {
    const gp_Pnt2d a(from.x, from.y), b(to.x, to.y);
    if (std::abs(distance(from, to) - length) <= 1e-12 * length) return new Geom2d_Line(a, gp_Dir2d(gp_Vec2d(a, b)));
    TColgp_Array1OfPnt2d poles(1, 2);
    poles(1) = a, poles(2) = b;
    TColStd_Array1OfReal knots(1, 2);
    TColStd_Array1OfInteger folds(1, 2);
    knots(1) = 0, knots(2) = length;
    folds.Init(2);
    return new Geom2d_BSplineCurve(poles, knots, folds, 1);
}

/// Walls along the frame's z to the plane at `height` over it. `way`: −1 where that is under the rims.
class FlatBuilder {
public:
    FlatBuilder(const Frame& frame, double height, double way)
        : frame_(frame), height_(height), way_(way), down_(frame.z * way) {
        Frame ground = frame;
        ground.origin = frame.origin + frame.z * height;
        const gp_Pln plane(part::axes(ground));
        floor_ = {new Geom_Plane(plane), TopLoc_Location(), plane};
    }

    [[nodiscard]] const HostSurface& floor() const { return floor_; }

    void add(const std::vector<RimCurve>& curves, const RoundHost& host, TopoDS_Wire& rim, TopoDS_Wire& foot,
             std::vector<TopoDS_Face>& walls) {
        host_ = host;
        build_walls_around(
            curves.size(), [&](Strip& strip, std::size_t i) { stand(strip, curves[i].rim[0]); },
            [&](std::size_t i, Strip& strip, Strip& next) { return span(curves[i], strip, next); }, rim, foot, walls);
    }

private:
    [[nodiscard]] double drop(const Vec3& p) const { return way_ * (height_ - dot(p - frame_.origin, frame_.z)); }

    void stand(Strip& strip, const Vec3& rim) {
        stand_upright(strip, part::point(rim), part::point(rim + down_ * drop(rim)), part::direction(down_), drop(rim),
                      exact);
    }

    TopoDS_Face span(const RimCurve& curve, Strip& strip, Strip& next) {
        Poles<Vec2> flat;
        Poles<Vec3> foot;
        for (std::size_t k = 0; k < 6; ++k) {
            flat[k] = frame_.to_plane(curve.rim[k]);
            foot[k] = curve.rim[k] + down_ * drop(curve.rim[k]);
        }
        rim_off_ = std::max(exact, 1.5 * curve.off);
        const double size = distance(curve.rim[0], curve.rim[5]);
        is_line_ = evenly_straight(curve.rim, hair) && evenly_straight(curve.uv, hair);
        if (is_line_) {
            const gp_Pnt a = part::point(curve.rim[0]), b = part::point(curve.rim[5]);
            lay_edge(strip.rim, new Geom_Line(a, gp_Dir(gp_Vec(a, b))), strip.rim_start, next.rim_start, 0, size,
                     rim_off_);
            on_host(strip.rim, curve, straight_2d(curve.uv[0], curve.uv[5], size));
        } else {
            lay_edge(strip.rim, bezier(curve.rim), strip.rim_start, next.rim_start, 0, 1, rim_off_);
            on_host(strip.rim, curve, bezier_2d(curve.uv));
        }
        return is_straight(flat) ? span_plane(curve, flat, foot, strip, next)
                                 : span_bent(curve, flat, foot, strip, next);
    }

    static bool is_straight(const Poles<Vec2>& flat) {
        const Vec2 whole = flat[5] - flat[0];
        const double size = length(whole);
        for (std::size_t k = 1; k < 6; ++k) {
            if (dot(flat[k] - flat[k - 1], whole) <= 0) return false;
            if (std::abs(cross(flat[k] - flat[0], whole)) > hair * size) return false;
        }
        return true;
    }

    TopoDS_Face span_plane(const RimCurve& curve, const Poles<Vec2>& flat, const Poles<Vec3>& foot, Strip& strip,
                           Strip& next) {
        const Vec3 along = normalised(foot[5] - foot[0]);
        const double size = distance(foot[0], foot[5]);
        const HostSurface wall{new Geom_Plane(gp_Ax3(part::point(curve.rim[0]), part::direction(cross(along, down_)),
                                                     part::direction(along))),
                               TopLoc_Location(),
                               {}};
        lay_edge(strip.foot, new Geom_Line(part::point(foot[0]), part::direction(along)), strip.foot_start,
                 next.foot_start, 0, size, exact);
        on(strip.foot, straight_2d(flat[0], flat[5], size), floor_);
        Poles<Vec2> seen;
        for (std::size_t k = 0; k < 6; ++k)
            seen[k] = {dot(curve.rim[k] - curve.rim[0], along), dot(curve.rim[k] - curve.rim[0], down_)};
        on(strip.rim, is_line_ ? straight_2d(seen[0], seen[5], length(seen[5])) : bezier_2d(seen), wall, rim_off_);
        on(strip.foot, line({0, drop(curve.rim[0])}, {1, 0}), wall);
        on(strip.upright, line({0, 0}, {0, 1}), wall);
        on(next.upright, line({seen[5].x, seen[5].y}, {0, 1}), wall);
        return bare(wall);
    }

    TopoDS_Face span_bent(const RimCurve& curve, const Poles<Vec2>& flat, const Poles<Vec3>& foot, Strip& strip,
                          Strip& next) {
        const Handle(Geom_Curve) basis = bezier(foot);
        const HostSurface wall{new Geom_SurfaceOfLinearExtrusion(basis, part::direction(down_)), TopLoc_Location(), {}};
        lay_edge(strip.foot, basis, strip.foot_start, next.foot_start, 0, 1, exact);
        on(strip.foot, bezier_2d(flat), floor_);
        Poles<Vec2> seen;
        for (std::size_t k = 0; k < 6; ++k)
            seen[k] = {static_cast<double>(k) / 5, -drop(curve.rim[k])};
        on(strip.rim, bezier_2d(seen), wall, rim_off_);
        on(strip.foot, line({0, 0}, {1, 0}), wall);
        on(strip.upright, line({0, seen[0].y}, {0, 1}), wall);
        on(next.upright, line({1, seen[5].y}, {0, 1}), wall);
        return bare(wall);
    }

    void on_host(const TopoDS_Edge& edge, const RimCurve& along, const Handle(Geom2d_Curve) & curve) {
        const auto uv = [&](double part) { return ParameterCurve{5, along.uv}.at(part); };
        if (host_.lay_rim)
            host_.lay_rim(edge, uv);
        else if (host_.stored)
            host_.stored->lay_on(edge, uv);
        else
            on(edge, curve, host_.surface, rim_off_);
    }
    static Handle(Geom2d_Curve) line(gp_Pnt2d from, gp_Dir2d way) { return new Geom2d_Line(from, way); }
    void on(const TopoDS_Edge& edge, const Handle(Geom2d_Curve) & curve, const HostSurface& surface,
            double tolerance = exact) {
        lay_on(edge, curve, surface.surface, surface.location, tolerance);
    }
    TopoDS_Face bare(const HostSurface& wall) {
        TopoDS_Face face;
        builder_.MakeFace(face, wall.surface, exact);
        return face;
    }

    BRep_Builder builder_;
    Frame frame_;
    double height_, way_;
    Vec3 down_;
    HostSurface floor_;
    RoundHost host_;
    double rim_off_ = exact;
    bool is_line_ = false;
};

/// Where on a round host the rims of regions and holes lie: u is counted on from where the host's edges are.
class RimTurns {
public:
    RimTurns(const Site& site, const RoundHost& host, std::span<const Region> regions) : site_(site), host_(host) {
        if (!site.unrolling) return;
        for (const Region& region : regions)
            for (const Contour& hole : region.holes)
                holes_.push_back(turn_into(host, middle_angle(round_curves(site, hole))));
    }
    /// `in`: of a region, the hole that it lies in, or −1.
    [[nodiscard]] std::vector<RimCurve> outer(const Contour& contour, int in) const {
        if (!site_.unrolling) return rims_of(site_, contour);
        return rims_of(round_curves(site_, contour), [&](const ParameterCurve& curve) {
            return in < 0 ? turn_of_edge(*site_.unrolling, host_, curve) : holes_[static_cast<std::size_t>(in)];
        });
    }
    [[nodiscard]] std::vector<RimCurve> hole(const Contour& contour, std::size_t which) const {
        if (!site_.unrolling) return rims_of(site_, contour);
        return rims_of(round_curves(site_, contour), [&](const ParameterCurve&) { return holes_[which]; });
    }

private:
    const Site& site_;
    const RoundHost& host_;
    std::vector<double> holes_;
};

} // namespace

Walls build_flat_walls(const Site& site, const RoundHost& host, std::span<const Region> regions,
                       std::span<const int> region_in) {
    Walls out;
    const BRep_Builder builder;
    FlatBuilder walls(site.flat->frame, site.flat->height, site.extent.low < 0 ? -1 : 1);
    const RimTurns turns(site, host, regions);
    std::size_t next_hole = 0;
    for (std::size_t i = 0; i < regions.size(); ++i) {
        RegionRims& rims = out.rims.emplace_back();
        TopoDS_Face floor = face_on(walls.floor(), exact, TopAbs_FORWARD);
        TopoDS_Wire foot;
        walls.add(turns.outer(regions[i].outer, region_in[i]), host, rims.outer, foot, out.walls);
        builder.Add(floor, foot);
        for (const Contour& hole : regions[i].holes) {
            TopoDS_Wire hole_foot;
            walls.add(turns.hole(hole, next_hole++), host, rims.holes.emplace_back(), hole_foot, out.walls);
            builder.Add(floor, hole_foot);
        }
        out.floors.push_back(floor);
    }
    return out;
}

TopoDS_Solid build_flat_prism(const Site& site, const Region& region, double bottom, double top) {
    Frame low = site.flat->frame;
    low.origin = low.origin + low.z * bottom;
    FlatBuilder walls(low, top - bottom, 1);
    const gp_Pln plane(part::axes(low));
    const RoundHost ground{{new Geom_Plane(plane), TopLoc_Location(), plane}, 0};
    const auto laid_flat = [&](const Contour& contour) {
        std::vector<RimCurve> curves = rims_of(site, contour);
        for (RimCurve& curve : curves) {
            for (std::size_t k = 0; k < 6; ++k) {
                curve.uv[k] = low.to_plane(curve.rim[k]);
                curve.rim[k] = low.to_space(curve.uv[k]);
            }
            curve.off = 0;
        }
        return curves;
    };
    const BRep_Builder builder;
    Walls out;
    RegionRims& rims = out.rims.emplace_back();
    TopoDS_Face roof = face_on(walls.floor(), exact, TopAbs_FORWARD),
                base = face_on(ground.surface, exact, TopAbs_REVERSED);
    const auto add = [&](const Contour& contour, TopoDS_Wire& rim) {
        TopoDS_Wire foot;
        walls.add(laid_flat(contour), ground, rim, foot, out.walls);
        builder.Add(roof, foot);
        builder.Add(base, rim.Reversed());
    };
    add(region.outer, rims.outer);
    for (const Contour& hole : region.holes)
        add(hole, rims.holes.emplace_back());
    out.floors.push_back(roof);
    return closed_body(out, base);
}

double flat_volume(const Site& site, const Region& region) {
    std::vector<Poles<Vec2>> boundary;
    const auto add = [&](const Contour& contour) {
        for (const RimCurve& curve : rims_of(site, contour))
            boundary.push_back(curve.uv);
    };
    add(region.outer);
    for (const Contour& hole : region.holes)
        add(hole);
    const FlatFloor& flat = *site.flat;
    // Height to the floor, times the area of a surface element as it is seen along the normal.
    if (site.unrolling) {
        const surface::Unrolling& s = *site.unrolling;
        return std::abs(integral_over(boundary, {}, {}, [&](Vec2 uv) {
            const double seen = std::abs(s.radius_at(uv.y)) * dot(s.normal(uv.x), flat.frame.z);
            return (flat.above(s.point(uv)) - flat.height) * seen;
        }));
    }
    const surface::CurvedFace& face = site.chart->face();
    const surface::SurfaceEvaluator surface(face, face.location.Transformation());
    return std::abs(integral_over(boundary, face.breaks_u, face.breaks_v, [&](Vec2 uv) {
        const auto at = surface.first(uv);
        return (flat.above(at.point) - flat.height) * dot(cross(at.du, at.dv), flat.frame.z);
    }));
}

} // namespace touchmark::imprint
