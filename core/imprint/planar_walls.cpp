// SPDX-License-Identifier: MIT
#include "core/imprint/planar_walls.h"

#include "core/imprint/region_walls.h"
#include "core/imprint/strip.h"
#include "core/part/recognise.h"
#include "core/part/vectors.h"

#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <Geom2d_BezierCurve.hxx>
#include <Geom2d_Line.hxx>
#include <Geom_BezierCurve.hxx>
#include <Geom_Line.hxx>
#include <Geom_Plane.hxx>
#include <Geom_RectangularTrimmedSurface.hxx>
#include <Geom_SurfaceOfLinearExtrusion.hxx>
#include <Precision.hxx>
#include <TColgp_Array1OfPnt.hxx>
#include <TColgp_Array1OfPnt2d.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Shell.hxx>
#include <TopoDS_Vertex.hxx>

namespace touchmark::imprint {
namespace {

using geometry::Contour;
using geometry::Region;
using geometry::Segment;

constexpr double tolerance = 1e-7; // Precision::Confusion(): the curves are exact

/// Points of the mark's plane, moved along its normal onto another plane, in the parameters of that.
class Parameters {
public:
    Parameters(const Frame& frame, const Heights& heights, const HostSurface& host) : host_(&host) {
        const gp_Trsf back = host.location.Transformation().Inverted();
        const gp_Ax3& axes = host.plane.Position();
        const auto seen = [&](const gp_Vec& v) {
            return Vec2{v.Dot(gp_Vec(axes.XDirection())), v.Dot(gp_Vec(axes.YDirection()))};
        };
        const Vec3 origin = frame.origin + frame.z * heights.at_origin;
        origin_ = seen(gp_Vec(axes.Location(), part::point(origin).Transformed(back)));
        x_ = seen(part::vector(frame.x + frame.z * heights.slope.x).Transformed(back));
        y_ = seen(part::vector(frame.y + frame.z * heights.slope.y).Transformed(back));
    }

    [[nodiscard]] gp_Pnt2d at(Vec2 p) const {
        const Vec2 q = origin_ + x_ * p.x + y_ * p.y;
        return {q.x, q.y};
    }
    [[nodiscard]] Handle(Geom2d_Curve) curve(const Segment& segment) const {
        if (segment.degree == 1) {
            const gp_Pnt2d a = at(segment.points[0]), b = at(segment.points[1]);
            return new Geom2d_Line(a, gp_Dir2d(gp_Vec2d(a, b)));
        }
        TColgp_Array1OfPnt2d poles(1, segment.degree + 1);
        for (int k = 0; k <= segment.degree; ++k)
            poles(k + 1) = at(segment.points[static_cast<std::size_t>(k)]);
        return new Geom2d_BezierCurve(poles);
    }
    void add_to(const TopoDS_Edge& edge, const Segment& segment) const {
        lay_on(edge, curve(segment), host_->surface, host_->location, tolerance);
    }

private:
    const HostSurface* host_;
    Vec2 origin_, x_, y_;
};

class WallBuilder {
public:
    /// Feet on `floor`, which has those heights over the mark's plane: all above it or all below.
    WallBuilder(const Frame& frame, const HostSurface& host, const HostSurface& floor, const Heights& heights,
                double way)
        : frame_(frame), heights_(heights), way_(way), down_(part::vector(frame.z * way)), on_host_(frame, {}, host),
          on_floor_(frame, heights, floor), along_rim_(new Geom2d_Line({0, 0}, {1, 0})),
          along_foot_(new Geom2d_Line({0, way * heights.at_origin}, {1, 0})),
          at_start_(new Geom2d_Line({0, 0}, {0, 1})), at_end_(new Geom2d_Line({1, 0}, {0, 1})) {}

    /// Adds a wall a segment to `walls`; the wires run as the contour does.
    void add(const Contour& contour, TopoDS_Wire& rim, TopoDS_Wire& foot, std::vector<TopoDS_Face>& walls) {
        const auto& segments = contour.segments;
        build_walls_around(
            segments.size(), [&](Strip& strip, std::size_t i) { stand(strip, segments[i].start()); },
            [&](std::size_t i, Strip& strip, Strip& next) { return span(segments[i], strip, next); }, rim, foot, walls);
    }

private:
    [[nodiscard]] gp_Pnt at(Vec2 p) const { return part::point(frame_.to_space(p)); }
    /// From rim to foot.
    [[nodiscard]] double height(Vec2 p) const { return way_ * heights_.at(p); }
    [[nodiscard]] gp_Pnt below(Vec2 p) const { return at(p).Translated(down_ * height(p)); }
    [[nodiscard]] bool level() const { return heights_.slope == Vec2{}; }

    void stand(Strip& strip, Vec2 p) { stand_upright(strip, at(p), below(p), gp_Dir(down_), height(p), tolerance); }

    TopoDS_Face span(const Segment& segment, Strip& strip, Strip& next) {
        return segment.degree == 1 ? span_line(segment, strip, next) : span_curve(segment, strip, next);
    }

    TopoDS_Face span_line(const Segment& segment, Strip& strip, Strip& next) {
        const gp_Pnt a = at(segment.start()), b = at(segment.end());
        const double size = a.Distance(b);
        const gp_Dir along(gp_Vec(a, b)), down(down_);
        const Handle(Geom_Plane) wall = new Geom_Plane(gp_Ax3(a, along.Crossed(down), along));
        lay_edge(strip.rim, new Geom_Line(a, along), strip.rim_start, next.rim_start, 0, size, tolerance);
        if (level()) {
            lay_edge(strip.foot, new Geom_Line(below(segment.start()), along), strip.foot_start, next.foot_start, 0,
                     size, tolerance);
            return clad(wall, segment, strip, next, size, along_foot_);
        }
        const gp_Pnt from = below(segment.start()), to = below(segment.end());
        lay_edge(strip.foot, new Geom_Line(from, gp_Dir(gp_Vec(from, to))), strip.foot_start, next.foot_start, 0,
                 from.Distance(to), tolerance);
        const double start = height(segment.start()), end = height(segment.end());
        return clad(wall, segment, strip, next, size, new Geom2d_Line(gp_Pnt2d(0, start), gp_Dir2d(size, end - start)));
    }

    TopoDS_Face span_curve(const Segment& segment, Strip& strip, Strip& next) {
        TColgp_Array1OfPnt rim(1, segment.degree + 1), foot(1, segment.degree + 1);
        for (int k = 0; k <= segment.degree; ++k) {
            rim(k + 1) = at(segment.points[static_cast<std::size_t>(k)]);
            foot(k + 1) = below(segment.points[static_cast<std::size_t>(k)]);
        }
        const Handle(Geom_BezierCurve) curve = new Geom_BezierCurve(rim);
        lay_edge(strip.rim, curve, strip.rim_start, next.rim_start, 0, 1, tolerance);
        lay_edge(strip.foot, new Geom_BezierCurve(foot), strip.foot_start, next.foot_start, 0, 1, tolerance);
        return clad(new Geom_SurfaceOfLinearExtrusion(curve, gp_Dir(down_)), segment, strip, next, 1,
                    level() ? along_foot_ : sloping_foot(segment));
    }

    /// The height is linear in the place, so over the rim's parameter it is a Bézier of the rim's degree.
    [[nodiscard]] Handle(Geom2d_Curve) sloping_foot(const Segment& segment) const {
        TColgp_Array1OfPnt2d poles(1, segment.degree + 1);
        for (int k = 0; k <= segment.degree; ++k)
            poles(k + 1) = gp_Pnt2d(double(k) / segment.degree, height(segment.points[static_cast<std::size_t>(k)]));
        return new Geom2d_BezierCurve(poles);
    }

    /// The wall's face and the curves of its edges in the parameters of all their surfaces.
    TopoDS_Face clad(const Handle(Geom_Surface) & wall, const Segment& segment, Strip& strip, Strip& next, double width,
                     const Handle(Geom2d_Curve) & foot) {
        const TopLoc_Location here;
        lay_on(strip.rim, along_rim_, wall, here, tolerance);
        lay_on(strip.foot, foot, wall, here, tolerance);
        lay_on(strip.upright, at_start_, wall, here, tolerance);
        const Handle(Geom2d_Curve) far =
            width == 1 ? at_end_ : Handle(Geom2d_Curve)(new Geom2d_Line(gp_Pnt2d(width, 0), gp_Dir2d(0, 1)));
        lay_on(next.upright, far, wall, here, tolerance);
        on_host_.add_to(strip.rim, segment);
        on_floor_.add_to(strip.foot, segment);
        TopoDS_Face face;
        builder_.MakeFace(face, wall, tolerance);
        return face;
    }

    BRep_Builder builder_;
    const Frame& frame_;
    Heights heights_;
    double way_;  ///< −1: the feet are under the rims
    gp_Vec down_; ///< from the rim to the foot, unit
    Parameters on_host_, on_floor_;
    Handle(Geom2d_Curve) along_rim_, along_foot_, at_start_, at_end_;
};

HostSurface plane_at(const Frame& frame, double height) {
    Frame lifted = frame;
    lifted.origin = frame.origin + frame.z * height;
    const gp_Pln plane(part::axes(lifted));
    return {new Geom_Plane(plane), TopLoc_Location(), plane};
}

std::optional<HostSurface> stored_plane(const TopoDS_Face& face) {
    HostSurface out;
    out.surface = BRep_Tool::Surface(face, out.location);
    Handle(Geom_Surface) base = out.surface;
    if (const auto trimmed = Handle(Geom_RectangularTrimmedSurface)::DownCast(base); !trimmed.IsNull())
        base = trimmed->BasisSurface();
    const auto plane = Handle(Geom_Plane)::DownCast(base);
    if (plane.IsNull()) return std::nullopt;
    out.plane = plane->Pln();
    return out;
}

} // namespace

HostSurface host_surface(const TopoDS_Face& host, const Frame& frame) {
    if (const auto stored = stored_plane(host)) return *stored;
    HostSurface out;
    const Vec3 z = host.Orientation() == TopAbs_REVERSED ? -frame.z : frame.z;
    out.plane = gp_Pln(gp_Ax3(part::point(frame.origin), part::direction(z), part::direction(frame.x)));
    out.surface = new Geom_Plane(out.plane);
    return out;
}

std::optional<HostSurface> flat_surface(const TopoDS_Face& face) {
    if (auto stored = stored_plane(face)) return stored;
    const auto plane = part::recognised_plane(face);
    if (!plane) return std::nullopt;
    return HostSurface{new Geom_Plane(*plane), TopLoc_Location(), *plane};
}

TopoDS_Face face_on(const HostSurface& host, double face_tolerance, TopAbs_Orientation orientation) {
    TopoDS_Face face;
    BRep_Builder builder;
    builder.MakeFace(face, host.surface, host.location, face_tolerance);
    builder.NaturalRestriction(face, Standard_False);
    face.Orientation(orientation);
    return face;
}

Walls build_walls(const Frame& frame, const HostSurface& host, std::span<const Region> regions, double offset) {
    const HostSurface ground = plane_at(frame, offset);
    return walls_of_regions(regions.size(), [&](std::size_t i, Walls& out) {
        const Region& region = regions[i];
        const BRep_Builder builder;
        WallBuilder walls(frame, host, ground, {offset, {}}, offset < 0 ? -1 : 1);
        RegionRims& rims = out.rims.emplace_back();
        TopoDS_Face floor = face_on(ground, tolerance, TopAbs_FORWARD);
        TopoDS_Wire foot;
        walls.add(region.outer, rims.outer, foot, out.walls);
        builder.Add(floor, foot);
        for (const Contour& hole : region.holes) {
            TopoDS_Wire hole_foot;
            walls.add(hole, rims.holes.emplace_back(), hole_foot, out.walls);
            builder.Add(floor, hole_foot);
        }
        out.floors.push_back(floor);
    });
}

Openings build_openings(const Frame& frame, const HostSurface& host, const HostSurface& far, const Heights& heights,
                        std::span<const Region> regions) {
    Openings out;
    WallBuilder walls(frame, host, far, heights, -1);
    for (const Region& region : regions)
        walls.add(region.outer, out.walls.rims.emplace_back().outer, out.far_rims.emplace_back(), out.walls.walls);
    return out;
}

TopoDS_Solid build_prism(const Frame& frame, const Region& region, double bottom, double top) {
    Frame low = frame;
    low.origin = frame.origin + frame.z * bottom;
    const HostSurface ground = plane_at(low, 0);
    const Walls walls = build_walls(low, ground, std::span(&region, 1), top - bottom);
    BRep_Builder builder;
    TopoDS_Face base = face_on(ground, tolerance, TopAbs_REVERSED);
    builder.Add(base, walls.rims[0].outer.Reversed());
    for (const TopoDS_Wire& hole : walls.rims[0].holes)
        builder.Add(base, hole.Reversed());
    return closed_body(walls, base);
}

TopoDS_Solid closed_body(const Walls& walls, const TopoDS_Face& base) {
    const BRep_Builder builder;
    TopoDS_Shell shell;
    builder.MakeShell(shell);
    for (const auto* faces : {&walls.walls, &walls.floors})
        for (const TopoDS_Face& face : *faces)
            builder.Add(shell, face);
    builder.Add(shell, base);
    shell.Closed(Standard_True);
    TopoDS_Solid solid;
    builder.MakeSolid(solid);
    builder.Add(solid, shell);
    return solid;
}

} // namespace touchmark::imprint
