// SPDX-License-Identifier: MIT
#include "core/imprint/shaped_walls.h"

#include "core/imprint/check.h"
#include "core/imprint/shaped_side.h"
#include "core/imprint/strip.h"
#include "core/part/vectors.h"

#include <BRep_Builder.hxx>
#include <Geom2d_Line.hxx>
#include <Geom_ConicalSurface.hxx>
#include <Geom_Plane.hxx>
#include <Geom_ToroidalSurface.hxx>
#include <TopoDS_Iterator.hxx>
#include <gp_Trsf2d.hxx>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

namespace touchmark::imprint {
namespace {

using geometry::Contour;
using geometry::InsetJoint;
using geometry::InsetSide;
using geometry::Region;

constexpr double exact = 1e-7; // Precision::Confusion()

Handle(Geom2d_Curve) line(gp_Pnt2d from, gp_Dir2d way) {
    return new Geom2d_Line(from, way);
}

class ShapedBuilder {
public:
    ShapedBuilder(const WallGround& ground, std::span<const WallBand> bands) : ground_(ground), bands_(bands) {}

    /// The walls around one contour between `rim` and `foot`. False where they cannot be made.
    bool add(const Contour& from, std::vector<TopoDS_Face>& walls) {
        contour_.emplace(ShapedContour{geometry::InsetContour(from), {}});
        for (const InsetSide& side : contour_->inset.sides()) {
            auto fit = fitted_side(side, bands_.back().to.inset);
            if (!fit) return false;
            contour_->fits.push_back(*std::move(fit));
        }
        std::optional<Ring> top = ring_at(ground_, *contour_, bands_.front().from);
        if (!top) return false;
        rim_ = *top;
        for (const WallBand& band : bands_) {
            std::optional<Ring> foot = ring_at(ground_, *contour_, band.to);
            if (!foot || !clad(band, *top, *foot, walls)) return false;
            top = std::move(foot);
        }
        foot_ = *std::move(top);
        return true;
    }
    /// Of what was added last; `to` leads from the mark's plane to the parameters of the surface.
    [[nodiscard]] TopoDS_Wire rim_on(const HostSurface& host, const gp_Trsf2d& to) const {
        return wire(rim_, host, to);
    }
    [[nodiscard]] TopoDS_Wire foot_on(const HostSurface& floor) const { return wire(foot_, floor, gp_Trsf2d()); }

private:
    bool clad(const WallBand& band, const Ring& top, const Ring& foot, std::vector<TopoDS_Face>& walls) {
        const auto& sides = contour_->inset.sides();
        std::vector<Rises> rises;
        for (std::size_t i = 0; i < sides.size(); ++i) {
            auto at = rises_at(ground_, *contour_, i, band, top, foot);
            if (!at) return false;
            rises.push_back(*std::move(at));
        }
        for (std::size_t i = 0; i < sides.size(); ++i) {
            const Rise &start = rises[i].after, &end = rises[(i + 1) % sides.size()].before;
            const auto wall = side_wall(ground_, sides[i], contour_->fits[i], band);
            on(top.sides[i], wall->level(band.from, band.q_from, top.ranges[i].from), wall->surface);
            on(foot.sides[i], wall->level(band.to, band.q_to, foot.ranges[i].from), wall->surface);
            on(start.edge, wall->rise(start, false), wall->surface, start.tolerance);
            on(end.edge, wall->rise(end, true), wall->surface, end.tolerance);
            walls.push_back(
                bounded(wall->surface, wall->orientation, top.sides[i], end.edge, foot.sides[i], start.edge));
            if (!rises[i].before.edge.IsSame(rises[i].after.edge))
                walls.push_back(patch(band, i, rises[i], top.joints[i], foot.joints[i]));
        }
        return true;
    }

    /// About a corner that opens: a piece of a cone or a torus. u runs with the arc, or against it from a whole turn.
    TopoDS_Face patch(const WallBand& band, std::size_t i, const Rises& rises, const Ring::Joint& top,
                      const Ring::Joint& foot) {
        const InsetJoint& joint = contour_->inset.joints()[i];
        const Vec3 down = ground_.frame.z * ground_.way;
        const WallLevel& centre = band.round ? band.centre : band.from;
        const gp_Ax3 axes(part::point(ground_.at(joint.corner, centre.depth)), part::direction(down),
                          part::direction(ground_.along(joint.before)));
        const bool with = ground_.way < 0; // the axis leads down: u runs clockwise as the arc does
        const double start = with ? 0 : 2 * std::numbers::pi, sense = with ? 1 : -1, turn = std::abs(joint.turn);
        Handle(Geom_Surface) surface;
        if (band.round)
            surface = new Geom_ToroidalSurface(axes, std::max(centre.inset, band.radius), band.radius);
        else
            surface = new Geom_ConicalSurface(
                axes, std::atan2(band.to.inset - band.from.inset, band.to.depth - band.from.depth), band.from.inset);
        const auto v_at = [&](double q) { return band.round ? std::numbers::pi - q : q; };
        const auto rise_at = [&](double u) {
            return band.round ? line({u, std::numbers::pi}, {0, -1}) : line({u, 0}, {0, 1});
        };
        const auto level_at = [&](double q) { return line({start, v_at(q)}, {sense, 0}); };
        TopoDS_Edge above = top.arc;
        if (above.IsNull())
            above = collapsed(top.before, turn, surface, level_at(band.q_from));
        else
            on(above, level_at(band.q_from), surface);
        on(foot.arc, level_at(band.q_to), surface);
        on(rises.before.edge, rise_at(start), surface);
        on(rises.after.edge, rise_at(start + sense * turn), surface);
        // A cone's normal leads away from its axis, a torus's away from the middle of its ring.
        const TopAbs_Orientation way = with != band.round ? TopAbs_FORWARD : TopAbs_REVERSED;
        return bounded(surface, way, above, rises.after.edge, foot.arc, rises.before.edge);
    }

    TopoDS_Edge collapsed(const TopoDS_Vertex& vertex, double turn, const Handle(Geom_Surface) & surface,
                          const Handle(Geom2d_Curve) & curve) {
        TopoDS_Edge edge;
        builder_.MakeEdge(edge);
        builder_.UpdateEdge(edge, curve, surface, TopLoc_Location(), exact);
        builder_.Add(edge, vertex.Oriented(TopAbs_FORWARD));
        builder_.Add(edge, vertex.Oriented(TopAbs_REVERSED));
        builder_.Range(edge, 0, turn);
        builder_.Degenerated(edge, Standard_True);
        return edge;
    }

    TopoDS_Face bounded(const Handle(Geom_Surface) & surface, TopAbs_Orientation way, const TopoDS_Edge& top,
                        const TopoDS_Edge& end, const TopoDS_Edge& foot, const TopoDS_Edge& start) {
        TopoDS_Face face = face_on({surface, TopLoc_Location(), {}}, exact, way);
        TopoDS_Wire wire;
        builder_.MakeWire(wire);
        builder_.Add(wire, top);
        builder_.Add(wire, end);
        builder_.Add(wire, foot.Reversed());
        builder_.Add(wire, start.Reversed());
        wire.Closed(Standard_True);
        builder_.Add(face, wire);
        return face;
    }

    [[nodiscard]] TopoDS_Wire wire(const Ring& ring, const HostSurface& host, const gp_Trsf2d& to) const {
        TopoDS_Wire wire;
        builder_.MakeWire(wire);
        for (std::size_t i = 0; i < ring.sides.size(); ++i) {
            if (const TopoDS_Edge& arc = ring.joints[i].arc; !arc.IsNull()) {
                on(arc, placed(flat_arc(contour_->inset.joints()[i], ring.level.inset), to), host);
                builder_.Add(wire, arc);
            }
            on(ring.sides[i], placed(flat_side(*contour_, ring, i), to), host);
            builder_.Add(wire, ring.sides[i]);
        }
        wire.Closed(Standard_True);
        return wire;
    }
    static Handle(Geom2d_Curve) placed(const Handle(Geom2d_Curve) & curve, const gp_Trsf2d& by) {
        if (by.Form() != gp_Identity) curve->Transform(by);
        return curve;
    }

    void on(const TopoDS_Edge& edge, const Handle(Geom2d_Curve) & curve, const Handle(Geom_Surface) & surface,
            double tolerance = exact) const {
        builder_.UpdateEdge(edge, curve, surface, TopLoc_Location(), tolerance);
    }
    void on(const TopoDS_Edge& edge, const Handle(Geom2d_Curve) & curve, const HostSurface& host) const {
        builder_.UpdateEdge(edge, curve, host.surface, host.location, exact);
    }

    BRep_Builder builder_;
    WallGround ground_;
    std::span<const WallBand> bands_;
    std::optional<ShapedContour> contour_;
    Ring rim_, foot_;
};

HostSurface plane_at(const WallGround& ground, double depth) {
    Frame lifted = ground.frame;
    lifted.origin = ground.at({}, depth);
    const gp_Pln plane(part::axes(lifted));
    return {new Geom_Plane(plane), TopLoc_Location(), plane};
}

/// From the mark's plane to the parameters of the same plane as the host has it.
gp_Trsf2d to_parameters(const Frame& frame, const HostSurface& host) {
    const gp_Trsf back = host.location.Transformation().Inverted();
    const gp_Ax3& axes = host.plane.Position();
    const auto seen = [&](const gp_Vec& v) {
        return gp_Vec2d(v.Dot(gp_Vec(axes.XDirection())), v.Dot(gp_Vec(axes.YDirection())));
    };
    const gp_Vec2d x = seen(part::vector(frame.x).Transformed(back)), y = seen(part::vector(frame.y).Transformed(back)),
                   shift = seen(gp_Vec(axes.Location(), part::point(frame.origin).Transformed(back)));
    gp_Trsf2d to;
    to.SetValues(x.X(), y.X(), shift.X(), x.Y(), y.Y(), shift.Y());
    return to;
}

Result<Walls> walls_on(const WallGround& ground, const HostSurface& host, const gp_Trsf2d& on_host,
                       std::span<const Region> regions, std::span<const WallBand> bands) {
    Walls out;
    const BRep_Builder builder;
    const HostSurface floor_surface = plane_at(ground, bands.back().to.depth);
    ShapedBuilder walls(ground, bands);
    for (const Region& region : regions) {
        RegionRims& rims = out.rims.emplace_back();
        TopoDS_Face floor = face_on(floor_surface, exact, TopAbs_FORWARD);
        const auto add = [&](const Contour& contour, TopoDS_Wire& rim) {
            if (!walls.add(contour, out.walls)) return false;
            rim = walls.rim_on(host, on_host);
            builder.Add(floor, walls.foot_on(floor_surface));
            return true;
        };
        bool good = add(region.outer, rims.outer);
        for (const Contour& hole : region.holes)
            good = good && add(hole, rims.holes.emplace_back());
        if (!good) return failed("its leaning walls do not meet each other clean");
        out.floors.push_back(floor);
    }
    return out;
}

} // namespace

Result<Walls> build_shaped_walls(const Frame& frame, const HostSurface& host, std::span<const Region> regions,
                                 const WallShape& shape, double way) {
    const std::vector<WallBand> bands = bands_of(shape);
    return walls_on({frame, way}, host, to_parameters(frame, host), regions, bands);
}

Result<TopoDS_Solid> build_shaped_body(const Frame& frame, const Region& region, const WallShape& shape, double way,
                                       double above) {
    const WallGround ground{frame, way};
    const std::vector<WallBand> bands = bands_of(shape, above);
    const HostSurface lid = plane_at(ground, -above);
    const auto walls = walls_on(ground, lid, gp_Trsf2d(), std::span(&region, 1), bands);
    if (!walls) return std::unexpected(walls.error());
    const BRep_Builder builder;
    // Floors look out of a cut's material: into the body.
    TopoDS_Face base = face_on(lid, exact, TopAbs_REVERSED);
    builder.Add(base, walls->rims[0].outer.Reversed());
    for (const TopoDS_Wire& hole : walls->rims[0].holes)
        builder.Add(base, hole.Reversed());
    const TopoDS_Solid body = closed_body(*walls, base);
    if (way > 0) return body;
    TopoDS_Solid turned;
    builder.MakeSolid(turned);
    for (TopoDS_Iterator shell(body); shell.More(); shell.Next())
        builder.Add(turned, shell.Value().Reversed());
    return turned;
}

} // namespace touchmark::imprint
