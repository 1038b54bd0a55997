// SPDX-License-Identifier: MIT
#include "core/imprint/freeform_walls.h"

#include "core/imprint/parallel_surface.h"
#include "core/imprint/strip.h"
#include "core/part/vectors.h"

#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <Geom2d_BezierCurve.hxx>
#include <Geom2d_Line.hxx>
#include <Geom_BSplineSurface.hxx>
#include <Geom_BezierCurve.hxx>
#include <Geom_Line.hxx>
#include <TColStd_Array1OfInteger.hxx>
#include <TColStd_Array1OfReal.hxx>
#include <TColgp_Array1OfPnt.hxx>
#include <TColgp_Array1OfPnt2d.hxx>
#include <TColgp_Array2OfPnt.hxx>
#include <TopAbs.hxx>

#include <algorithm>
#include <cmath>

namespace touchmark::imprint {
namespace {

using geometry::Contour;
using geometry::Region;

constexpr double exact = 1e-7; // Precision::Confusion()

TopAbs_Orientation orientation_of(const Site& site) {
    return site.chart->face().side > 0 ? TopAbs_FORWARD : TopAbs_REVERSED;
}

template <class Poles> Handle(Geom_BezierCurve) bezier(const Poles& from) {
    TColgp_Array1OfPnt poles(1, 6);
    for (int k = 0; k < 6; ++k)
        poles(k + 1) = part::point(from[static_cast<std::size_t>(k)]);
    return new Geom_BezierCurve(poles);
}

class FreeformBuilder {
public:
    FreeformBuilder(double rim, double foot)
        : height_(std::abs(foot - rim)), along_rim_(new Geom2d_Line({0, 0}, {1, 0})),
          along_foot_(new Geom2d_Line({0, height_}, {1, 0})), at_start_(new Geom2d_Line({0, 0}, {0, 1})),
          at_end_(new Geom2d_Line({1, 0}, {0, 1})) {}

    /// The surfaces of the rims and the feet that come next.
    void stand_between(const HostSurface& host, const HostSurface& floor) {
        host_ = host;
        floor_ = floor;
    }
    void add(const std::vector<CarriedCurve>& curves, TopoDS_Wire& rim, TopoDS_Wire& foot,
             std::vector<TopoDS_Face>& walls) {
        build_walls_around(
            curves.size(), [&](Strip& strip, std::size_t i) { stand(strip, curves[i]); },
            [&](std::size_t i, Strip& strip, Strip& next) { return span(curves[i], strip, next); }, rim, foot, walls);
    }

private:
    void stand(Strip& strip, const CarriedCurve& curve) {
        const gp_Pnt rim = part::point(curve.rim[0]), foot = part::point(curve.foot[0]);
        stand_upright(strip, rim, foot, gp_Dir(gp_Vec(rim, foot)), height_, exact);
    }

    void lay(TopoDS_Edge& edge, const std::array<Vec3, 6>& poles, const std::array<Vec2, 6>& uv, const HostSurface& on,
             const TopoDS_Vertex& from, const TopoDS_Vertex& to, double tolerance) {
        lay_edge(edge, bezier(poles), from, to, 0, 1, tolerance);
        TColgp_Array1OfPnt2d flat(1, 6);
        for (int k = 0; k < 6; ++k) {
            const Vec2 p = uv[static_cast<std::size_t>(k)];
            flat(k + 1) = gp_Pnt2d(p.x, p.y);
        }
        lay_on(edge, new Geom2d_BezierCurve(flat), on.surface, on.location, tolerance);
    }

    TopoDS_Face span(const CarriedCurve& curve, Strip& strip, Strip& next) {
        const double rim_off = std::max(exact, 1.5 * curve.rim_off), foot_off = std::max(exact, 1.5 * curve.foot_off);
        lay(strip.rim, curve.rim, curve.uv, host_, strip.rim_start, next.rim_start, rim_off);
        lay(strip.foot, curve.foot, curve.uv, floor_, strip.foot_start, next.foot_start, foot_off);
        // v runs in mm like the uprights do.
        TColgp_Array2OfPnt poles(1, 6, 1, 2);
        for (int k = 0; k < 6; ++k) {
            poles(k + 1, 1) = part::point(curve.rim[static_cast<std::size_t>(k)]);
            poles(k + 1, 2) = part::point(curve.foot[static_cast<std::size_t>(k)]);
        }
        TColStd_Array1OfReal u(1, 2), v(1, 2);
        TColStd_Array1OfInteger u_fold(1, 2), v_fold(1, 2);
        u(1) = 0, u(2) = 1, v(1) = 0, v(2) = height_;
        u_fold.Init(6), v_fold.Init(2);
        const Handle(Geom_BSplineSurface) wall = new Geom_BSplineSurface(poles, u, v, u_fold, v_fold, 5, 1);
        const TopLoc_Location here;
        lay_on(strip.rim, along_rim_, wall, here, rim_off);
        lay_on(strip.foot, along_foot_, wall, here, foot_off);
        lay_on(strip.upright, at_start_, wall, here, exact);
        lay_on(next.upright, at_end_, wall, here, exact);
        TopoDS_Face face;
        builder_.MakeFace(face, wall, exact);
        return face;
    }

    BRep_Builder builder_;
    HostSurface host_, floor_;
    double height_;
    Handle(Geom2d_Line) along_rim_, along_foot_, at_start_, at_end_;
};

/// A region's contours on the surface.
struct CarriedRegion {
    std::vector<std::vector<CarriedCurve>> contours; ///< the outer one first
    Box2 box;                                        ///< of the parameters

    CarriedRegion(const CurveCarrier& carrier, const Region& region) {
        contours.push_back(carrier.carried(region.outer));
        for (const Contour& hole : region.holes)
            contours.push_back(carrier.carried(hole));
        for (const CarriedCurve& curve : contours.front())
            for (const Vec2 pole : curve.uv)
                box.add(pole);
    }
};

/// `surface_of(box)` gives the surface of the rims.
template <class SurfaceOf>
Walls walls_between(const Site& site, SurfaceOf&& surface_of, const ParallelSurface& ground,
                    std::span<const Region> regions, double rim_height, double foot_height) {
    Walls out;
    const BRep_Builder builder;
    const CurveCarrier carrier(site, rim_height, foot_height);
    FreeformBuilder walls(rim_height, foot_height);
    for (const Region& region : regions) {
        const CarriedRegion carried(carrier, region);
        const HostSurface floor_surface = ground.over(carried.box);
        walls.stand_between(surface_of(carried.box), floor_surface);
        RegionRims& rims = out.rims.emplace_back();
        TopoDS_Face floor = face_on(floor_surface, exact, orientation_of(site));
        for (const auto& contour : carried.contours) {
            TopoDS_Wire foot;
            const bool is_outer = &contour == &carried.contours.front();
            walls.add(contour, is_outer ? rims.outer : rims.holes.emplace_back(), foot, out.walls);
            builder.Add(floor, foot);
        }
        out.floors.push_back(floor);
    }
    return out;
}

} // namespace

HostSurface curved_host(const TopoDS_Face& face) {
    HostSurface host;
    host.surface = BRep_Tool::Surface(face, host.location);
    return host;
}

Result<Walls> build_freeform_walls(const Site& site, const HostSurface& host, std::span<const Region> regions,
                                   double offset) {
    const Result<ParallelSurface> floor = ParallelSurface::at(site, offset);
    if (!floor) return std::unexpected(floor.error());
    return walls_between(site, [&](const Box2&) { return host; }, *floor, regions, 0, offset);
}

Result<TopoDS_Solid> build_freeform_prism(const Site& site, const Region& region, double bottom, double top) {
    const Result<ParallelSurface> ground = ParallelSurface::at(site, bottom), roof = ParallelSurface::at(site, top);
    if (!ground) return std::unexpected(ground.error());
    if (!roof) return std::unexpected(roof.error());
    HostSurface base_surface;
    const auto base_over = [&](const Box2& box) { return base_surface = ground->over(box); };
    const Walls walls = walls_between(site, base_over, *roof, std::span(&region, 1), bottom, top);
    const BRep_Builder builder;
    TopoDS_Face base = face_on(base_surface, exact, TopAbs::Reverse(orientation_of(site)));
    builder.Add(base, walls.rims[0].outer.Reversed());
    for (const TopoDS_Wire& hole : walls.rims[0].holes)
        builder.Add(base, hole.Reversed());
    return closed_body(walls, base);
}

} // namespace touchmark::imprint
