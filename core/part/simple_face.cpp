// SPDX-License-Identifier: MIT
#include "core/part/simple_face.h"

#include "core/part/edge_curves.h"
#include "core/part/face_boundary.h"
#include "core/part/face_integral.h"
#include "core/part/recognise.h"
#include "core/part/vectors.h"

#include <BRep_Tool.hxx>
#include <Geom_BSplineSurface.hxx>
#include <Geom_Circle.hxx>
#include <Geom_CylindricalSurface.hxx>
#include <Geom_Plane.hxx>
#include <Geom_SurfaceOfLinearExtrusion.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Iterator.hxx>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <span>

namespace touchmark::part {
namespace {

void finish(FaceMeasure& measure, double area, double volume, const Vec3& moment, const Vec3& about, bool reversed) {
    const double side = area < 0 ? -1 : 1;
    measure.area = area * side;
    measure.volume = volume * side / 3 * (reversed ? -1 : 1);
    if (measure.area > 0) measure.centroid = about + moment * (side / measure.area);
}

bool finite(const FaceMeasure& measure) {
    return measure.area > 0 && std::isfinite(measure.area) && std::isfinite(measure.volume);
}

/// Nodes that integrate a square of the curve times its slope exactly.
std::span<const GaussNode> nodes_for(int degree) {
    if (degree <= 1) return gauss_2;
    if (degree <= 3) return gauss_5;
    return gauss_8; // up to quintics
}

/// By Green's theorem over the boundary, ∮ v du and its moments.
std::optional<FaceMeasure> flat(const TopoDS_Face& face, const Handle(Geom_Plane) & plane, const Vec3& about) {
    const gp_Ax3& axes = plane->Position();
    const Vec3 origin = vec(axes.Location()), x = vec(axes.XDirection()), y = vec(axes.YDirection());
    const Vec3 normal = cross(x, y);
    FaceMeasure measure;
    double area = 0, first_u = 0, first_v = 0;
    std::optional<Vec2> middle;
    for (TopoDS_Iterator wire(face); wire.More(); wire.Next()) {
        if (wire.Value().ShapeType() != TopAbs_WIRE) return std::nullopt;
        Vec2 left_open;
        for (TopoDS_Iterator item(wire.Value()); item.More(); item.Next()) {
            const TopoDS_Edge& edge = TopoDS::Edge(item.Value());
            const auto in_space = space_curve(StoredCurves(edge, plane, {}));
            if (!in_space) return std::nullopt;
            add_to(measure.box, *in_space);
            Bezier<Vec2> curve{in_space->degree, {}};
            for (std::size_t k = 0; k <= static_cast<std::size_t>(curve.degree); ++k) {
                const Vec3 p = in_space->poles[k] - origin;
                curve.poles[k] = {dot(p, x), dot(p, y)};
            }
            const bool back = (edge.Orientation() == TopAbs_REVERSED);
            if (edge.Orientation() != TopAbs_FORWARD && !back) return std::nullopt;
            const Vec2 from = back ? curve.last() : curve.poles[0], to = back ? curve.poles[0] : curve.last();
            if (!middle) middle = from; // near the zero rounding counts least
            left_open = left_open + to - from;
            for (const auto& [node, weight] : nodes_for(curve.degree)) {
                const auto [at, slope] = curve.jet((node + 1) / 2);
                const Vec2 p = at - *middle;
                const double du = slope.x * weight / 2 * (back ? -1 : 1);
                area -= p.y * du;
                first_u -= p.x * p.y * du;
                first_v -= p.y * p.y / 2 * du;
            }
        }
        constexpr double gap = 1e-6; // the general way bridges what is wider
        if (length(left_open) > gap) return std::nullopt;
    }
    if (!middle) return std::nullopt;
    const Vec3 from = origin - about + x * middle->x + y * middle->y;
    finish(measure, area, dot(from, normal) * area, from * area + x * first_u + y * first_v, about,
           face.Orientation() == TopAbs_REVERSED);
    measure.kind = FaceKind::plane;
    measure.frame = frame_from(measure.centroid, normal * (face.Orientation() == TopAbs_REVERSED ? -1.0 : 1.0), x);
    return measure;
}

/// Along a curve in a cylinder's parameters.
void add_samples(const Bezier<Vec2>& curve, double side, std::vector<BoundarySample>& out) {
    double low = 1e300, high = -1e300;
    for (int k = 0; k <= curve.degree; ++k) {
        low = std::min(low, curve.poles[static_cast<std::size_t>(k)].x);
        high = std::max(high, curve.poles[static_cast<std::size_t>(k)].x);
    }
    if (low == high) return; // along the axis
    constexpr double eighth = std::numbers::pi / 4, little = 0.1;
    const int pieces = std::max(1, static_cast<int>(std::ceil((high - low) / eighth)));
    const bool easy = curve.degree <= 2 && high - low < little;
    for (int piece = 0; piece < pieces; ++piece)
        for (const auto& [node, weight] : easy ? std::span<const GaussNode>(gauss_5) : gauss_8) {
            const auto [at, slope] = curve.jet((piece + (node + 1) / 2) / pieces);
            const double share = weight / 2 / pieces * side;
            out.push_back({at.x, at.y, slope.x * share, slope.y * share});
        }
}

/// A face on a cylinder between lines, circles and Béziers. Its box is that of its edges, for it is made of straight
/// lines between them.
std::optional<FaceMeasure> rolled(const TopoDS_Face& face, const Handle(Geom_CylindricalSurface) & surface,
                                  const Vec3& about) {
    FaceMeasure measure;
    std::vector<BoundarySample> boundary;
    for (TopoDS_Iterator wire(face.Oriented(TopAbs_FORWARD)); wire.More(); wire.Next()) {
        if (wire.Value().ShapeType() != TopAbs_WIRE) return std::nullopt;
        Vec2 left_open;
        for (TopoDS_Iterator item(wire.Value()); item.More(); item.Next()) {
            const TopoDS_Edge& edge = TopoDS::Edge(item.Value());
            const StoredCurves stored(edge, surface, {});
            const bool back = edge.Orientation() == TopAbs_REVERSED;
            if (edge.Orientation() != TopAbs_FORWARD && !back) return std::nullopt;
            if (stored.degenerated || !stored.in_parameters) return std::nullopt;
            const auto curve = parameter_curve(stored);
            if (!curve) return std::nullopt;
            if (const auto in_space = space_curve(stored))
                add_to(measure.box, *in_space);
            else if (const auto* circle = exactly<Geom_Circle>(stored.in_space); circle && stored.moved.IsIdentity())
                add_to(measure.box, stored, circle->Circ());
            else
                return std::nullopt;
            left_open = left_open + (curve->last() - curve->poles[0]) * (back ? -1.0 : 1.0);
            add_samples(*curve, back ? -1 : 1, boundary);
        }
        constexpr double gap = 1e-6; // the general way bridges what is wider, or what goes round
        if (length(left_open) > gap) return std::nullopt;
    }
    if (boundary.empty()) return std::nullopt;
    const FaceIntegral integral =
        integrate(surface->Cylinder(), boundary, face.Orientation() == TopAbs_REVERSED, about);
    measure.area = integral.area;
    measure.volume = integral.volume;
    measure.centroid = integral.centroid;
    measure.kind = FaceKind::cylinder;
    measure.frame = frame_of(surface->Position());
    measure.radius = surface->Radius();
    return measure;
}

struct Strip {
    Bezier<Vec3> near, far; ///< at v = 0 and v = height
    double height = 1;
};

std::optional<Strip> strip_of(const Handle(Geom_Surface) & surface) {
    if (const auto extrusion = Handle(Geom_SurfaceOfLinearExtrusion)::DownCast(surface); !extrusion.IsNull()) {
        const auto near = bezier_of(extrusion->BasisCurve().get());
        if (!near) return std::nullopt;
        Strip strip{*near, *near, 1};
        for (int k = 0; k <= near->degree; ++k)
            strip.far.poles[static_cast<std::size_t>(k)] =
                near->poles[static_cast<std::size_t>(k)] + vec(extrusion->Direction());
        return strip;
    }
    const auto spline = Handle(Geom_BSplineSurface)::DownCast(surface);
    if (spline.IsNull() || spline->IsURational() || spline->IsVRational() || spline->UDegree() > highest_degree ||
        spline->VDegree() != 1 || spline->NbVPoles() != 2 || spline->NbUPoles() != spline->UDegree() + 1 ||
        spline->UKnot(1) != 0 || spline->UKnot(2) != 1 || spline->VKnot(1) != 0)
        return std::nullopt;
    Strip strip{{spline->UDegree(), {}}, {spline->UDegree(), {}}, spline->VKnot(2)};
    for (int k = 0; k <= strip.near.degree; ++k) {
        strip.near.poles[static_cast<std::size_t>(k)] = vec(spline->Pole(k + 1, 1));
        strip.far.poles[static_cast<std::size_t>(k)] = vec(spline->Pole(k + 1, 2));
    }
    return strip;
}

struct Range {
    double low = 0, high = 0;
};

/// Of v, where the face's edges bound a rectangle with 0 ≤ u ≤ 1.
std::optional<Range> rectangle_of(const TopoDS_Face& face, const Handle(Geom_Surface) & surface) {
    constexpr double hair = 1e-12;
    TopoDS_Iterator wire(face);
    if (!wire.More()) return std::nullopt;
    std::array<Bezier<Vec2>, 4> sides;
    std::size_t count = 0;
    Range range{1e300, -1e300};
    for (TopoDS_Iterator item(wire.Value()); item.More(); item.Next()) {
        const auto curve = parameter_curve(StoredCurves(TopoDS::Edge(item.Value()), surface, {}));
        if (!curve || curve->degree != 1 || count == sides.size()) return std::nullopt;
        sides[count++] = *curve;
        for (const Vec2 p : {curve->poles[0], curve->poles[1]})
            range = {std::min(range.low, p.y), std::max(range.high, p.y)};
    }
    wire.Next();
    if (wire.More() || count != sides.size()) return std::nullopt;
    std::array<int, 4> found{};
    for (const Bezier<Vec2>& side : sides) {
        const Vec2 a = side.poles[0], b = side.poles[1];
        const auto level = [&](double v) { return std::abs(a.y - v) < hair && std::abs(b.y - v) < hair; };
        const auto upright = [&](double u) { return std::abs(a.x - u) < hair && std::abs(b.x - u) < hair; };
        const bool whole_u = std::abs(std::abs(b.x - a.x) - 1) < hair && std::min(a.x, b.x) < hair;
        const bool whole_v = std::abs(std::abs(b.y - a.y) - (range.high - range.low)) < hair;
        found[0] += whole_u && level(range.low);
        found[1] += whole_u && level(range.high);
        found[2] += whole_v && upright(0);
        found[3] += whole_v && upright(1);
    }
    if (found != std::array{1, 1, 1, 1} || range.high - range.low <= hair) return std::nullopt;
    return range;
}

bool is_flat(const Strip& strip) {
    const Vec3 origin = strip.near.poles[0], across = strip.far.poles[0] - origin;
    const Vec3 normal = normalised(cross(strip.near.last() - origin, across));
    for (const auto* curve : {&strip.near, &strip.far})
        for (int k = 0; k <= curve->degree; ++k)
            if (std::abs(dot(curve->poles[static_cast<std::size_t>(k)] - origin, normal)) > taken_within) return false;
    return true;
}

bool is_extruded(const Strip& strip) {
    constexpr double hair = 1e-10; // mm
    const Vec3 way = strip.far.poles[0] - strip.near.poles[0];
    for (std::size_t i = 1; i <= static_cast<std::size_t>(strip.near.degree); ++i)
        if (length(strip.far.poles[i] - strip.near.poles[i] - way) > hair) return false;
    return true;
}

/// Whether its normal turns along its straight lines, as on no cylinder or cone.
bool is_twisted(const Strip& strip) {
    for (const double t : {0.1, 0.5, 0.9}) {
        const auto near = strip.near.jet(t), far = strip.far.jet(t);
        const Vec3 across = far.at - near.at, at_near = cross(near.slope, across), at_far = cross(far.slope, across);
        if (length(cross(at_near, at_far)) > 3 * leaning_within * length(at_near) * length(at_far)) return true;
    }
    return false;
}

/// Whether one side of it is as good as an arc: it may be taken for a cylinder or cone.
bool is_round(const Strip& strip) {
    if (is_twisted(strip)) return false;
    const auto at = [&](double t) { return strip.near.jet(t).at; };
    const Vec3 a = at(0), b = at(0.5) - a, c = at(1) - a, across = cross(b, c);
    const double size = dot(across, across);
    if (!(size > 0)) return false;
    const Vec3 centre = a + (cross(across, b) * dot(c, c) + cross(c, across) * dot(b, b)) * (1 / (2 * size));
    const double radius = distance(a, centre);
    for (const double t : {0.2, 0.8})
        if (std::abs(distance(at(t), centre) - radius) > 10 * taken_within) return false;
    return true;
}

std::optional<FaceMeasure> measure_strip(const TopoDS_Face& face, const Handle(Geom_Surface) & surface,
                                         const Vec3& about) {
    std::optional<Strip> strip = strip_of(surface);
    if (!strip) return std::nullopt;
    const auto range = rectangle_of(face, surface);
    // A flat one has a plane's frame, a round one its axis.
    if (!range || is_flat(*strip) || is_round(*strip)) return std::nullopt;
    for (std::size_t i = 0; i <= static_cast<std::size_t>(strip->near.degree); ++i) {
        const Vec3 start = strip->near.poles[i], way = (strip->far.poles[i] - start) * (1 / strip->height);
        strip->near.poles[i] = start + way * range->low;
        strip->far.poles[i] = start + way * range->high;
    }
    FaceMeasure measure;
    add_to(measure.box, strip->near);
    add_to(measure.box, strip->far);
    // One Gauss node is exact for what is linear, as all is on an extrusion; two for cubics.
    constexpr std::array middle_alone{0.5};
    constexpr std::array two{0.21132486540518713, 0.78867513459481287};
    const bool extruded = is_extruded(*strip);
    const std::span<const double> across = extruded ? std::span<const double>(middle_alone) : two;
    const double share = extruded ? 0.5 : 0.25;
    double area = 0, volume = 0;
    Vec3 moment;
    const auto at = [&](double u, double v, Vec3& du, Vec3& dv) {
        const auto near = strip->near.jet(u), far = strip->far.jet(u);
        du = near.slope * (1 - v) + far.slope * v;
        dv = far.at - near.at;
        return near.at * (1 - v) + far.at * v;
    };
    Vec3 du, dv;
    for (const auto& [node, weight] : gauss_8)
        for (const double v : across) {
            const Vec3 p = at((node + 1) / 2, v, du, dv) - about, normal = cross(du, dv);
            const double patch = length(normal) * weight * share;
            area += patch;
            moment = moment + p * patch;
            volume += dot(p, normal) * weight * share;
        }
    finish(measure, area, volume, moment, about, face.Orientation() == TopAbs_REVERSED);
    measure.kind = FaceKind::freeform;
    const Vec3 middle = at(0.5, 0.5, du, dv), normal = cross(du, dv);
    measure.frame.origin = middle;
    if (length(normal) > 1e-12 * length(du) * length(dv))
        measure.frame = frame_from(middle, normal * (face.Orientation() == TopAbs_REVERSED ? -1.0 : 1.0), du);
    return measure;
}

} // namespace

std::optional<FaceMeasure> measure_simply(const TopoDS_Face& face, const Vec3& about) {
    TopLoc_Location location;
    const Handle(Geom_Surface)& surface = BRep_Tool::Surface(face, location);
    if (surface.IsNull() || !location.IsIdentity()) return std::nullopt;
    std::optional<FaceMeasure> measure;
    if (const auto plane = Handle(Geom_Plane)::DownCast(surface); !plane.IsNull())
        measure = flat(face, plane, about);
    else if (const auto cylinder = Handle(Geom_CylindricalSurface)::DownCast(surface); !cylinder.IsNull())
        measure = rolled(face, cylinder, about);
    else
        measure = measure_strip(face, surface, about);
    return measure && finite(*measure) ? measure : std::nullopt;
}

} // namespace touchmark::part
