// SPDX-License-Identifier: MIT
#include "core/part/simple_face.h"

#include "core/part/face_boundary.h"
#include "core/part/recognise.h"
#include "core/part/stored_curves.h"
#include "core/part/vectors.h"

#include <BRep_Tool.hxx>
#include <Geom2d_BezierCurve.hxx>
#include <Geom2d_Line.hxx>
#include <Geom2d_TrimmedCurve.hxx>
#include <Geom_BSplineSurface.hxx>
#include <Geom_BezierCurve.hxx>
#include <Geom_Line.hxx>
#include <Geom_Plane.hxx>
#include <Geom_SurfaceOfLinearExtrusion.hxx>
#include <Geom_TrimmedCurve.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Iterator.hxx>

#include <algorithm>
#include <array>
#include <cmath>
#include <span>

namespace touchmark::part {
namespace {

constexpr int highest_degree = 7;

template <class V> struct Bezier {
    int degree = 0;
    std::array<V, highest_degree + 1> poles;

    struct Jet {
        V at, slope;
    };
    [[nodiscard]] Jet jet(double t) const {
        std::array<V, highest_degree + 1> p = poles;
        for (int level = degree; level > 1; --level)
            for (int k = 0; k < level; ++k)
                p[static_cast<std::size_t>(k)] =
                    p[static_cast<std::size_t>(k)] * (1 - t) + p[static_cast<std::size_t>(k + 1)] * t;
        return {p[0] * (1 - t) + p[1] * t, (p[1] - p[0]) * degree};
    }
    [[nodiscard]] const V& last() const { return poles[static_cast<std::size_t>(degree)]; }
};

Vec2 vec(const gp_Pnt2d& p) {
    return {p.X(), p.Y()};
}
using part::vec;

double coordinate(const Vec3& p, int axis) {
    return axis == 0 ? p.x : axis == 1 ? p.y : p.z;
}

/// Widens [low, high] by what one coordinate of a Bézier reaches beyond its ends.
void widen(std::array<double, highest_degree + 1> p, int degree, double& low, double& high, int depth = 0) {
    const auto count = static_cast<std::size_t>(degree) + 1;
    const auto [least, most] = std::minmax_element(p.begin(), p.begin() + static_cast<std::ptrdiff_t>(count));
    constexpr int deepest = 40;
    low = std::min({low, p[0], p[count - 1]});
    high = std::max({high, p[0], p[count - 1]});
    // Far from the origin no more than rounding allows, or halving would go on for ever.
    const double hair = 1e-9 + 1e-14 * std::max(std::abs(low), std::abs(high));
    if ((*least > low - hair && *most < high + hair) || depth == deepest) return;
    std::array<double, highest_degree + 1> left{};
    for (std::size_t level = count; level > 0; --level) {
        left[count - level] = p[0];
        for (std::size_t k = 0; k + 1 < level; ++k)
            p[k] = (p[k] + p[k + 1]) / 2;
    }
    // What is left in p runs from the middle to the end.
    widen(left, degree, low, high, depth + 1);
    widen(p, degree, low, high, depth + 1);
}

void add_to(Box3& box, const Bezier<Vec3>& curve) {
    std::array<double, 3> low{}, high{};
    for (int axis = 0; axis < 3; ++axis) {
        std::array<double, highest_degree + 1> p{};
        for (int k = 0; k <= curve.degree; ++k)
            p[static_cast<std::size_t>(k)] = coordinate(curve.poles[static_cast<std::size_t>(k)], axis);
        low[static_cast<std::size_t>(axis)] = 1e300;
        high[static_cast<std::size_t>(axis)] = -1e300;
        widen(p, curve.degree, low[static_cast<std::size_t>(axis)], high[static_cast<std::size_t>(axis)]);
    }
    box.add({low[0], low[1], low[2]});
    box.add({high[0], high[1], high[2]});
}

template <class V, class Curve> Bezier<V> poles_of(const Curve& curve) {
    Bezier<V> out{curve.Degree(), {}};
    for (int k = 0; k <= out.degree; ++k)
        out.poles[static_cast<std::size_t>(k)] = vec(curve.Pole(k + 1));
    return out;
}

/// Null, when it is not a Bézier of a usable degree.
template <class Stored, class Curve> const Stored* bezier_in(const Curve* curve) {
    const auto* stored = exactly<Stored>(curve);
    return stored && !stored->IsRational() && stored->Degree() <= highest_degree ? stored : nullptr;
}

std::optional<Bezier<Vec3>> bezier_of(const Geom_Curve* curve) {
    if (const auto* part = exactly<Geom_TrimmedCurve>(curve)) {
        if (part->FirstParameter() != 0 || part->LastParameter() != 1) return std::nullopt;
        return bezier_of(part->BasisCurve().get());
    }
    const auto* stored = bezier_in<Geom_BezierCurve>(curve);
    return stored ? std::optional(poles_of<Vec3>(*stored)) : std::nullopt;
}

Bezier<Vec3> moved(Bezier<Vec3> curve, const TopLoc_Location& by) {
    if (by.IsIdentity()) return curve;
    for (int k = 0; k <= curve.degree; ++k) {
        Vec3& pole = curve.poles[static_cast<std::size_t>(k)];
        pole = vec(point(pole).Transformed(by.Transformation()));
    }
    return curve;
}

/// The whole of a line or a Bézier, as it runs forward.
std::optional<Bezier<Vec3>> space_curve(const StoredCurves& edge) {
    if (exactly<Geom_Line>(edge.in_space))
        return Bezier<Vec3>{1, {vec(edge.point(edge.first)), vec(edge.point(edge.last))}};
    const auto bezier = bezier_of(edge.in_space);
    if (!bezier || edge.first != 0 || edge.last != 1) return std::nullopt;
    return moved(*bezier, edge.moved);
}

/// The edge's whole curve in the parameters, as it runs forward.
std::optional<Bezier<Vec2>> parameter_curve(const StoredCurves& edge) {
    const Geom2d_Curve* curve = edge.in_parameters;
    if (const auto* part = exactly<Geom2d_TrimmedCurve>(curve)) curve = part->BasisCurve().get();
    if (const auto* line = exactly<Geom2d_Line>(curve))
        return Bezier<Vec2>{1, {vec(line->Value(edge.first_on)), vec(line->Value(edge.last_on))}};
    const auto* stored = bezier_in<Geom2d_BezierCurve>(curve);
    if (!stored || edge.first_on != 0 || edge.last_on != 1) return std::nullopt;
    return poles_of<Vec2>(*stored);
}

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

/// Whether one side of it is as good as an arc: it may be taken for a cylinder or cone.
bool is_round(const Strip& strip) {
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
    constexpr std::array across{0.21132486540518713, 0.78867513459481287}; // two Gauss nodes: exact for cubics
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
            const double patch = length(normal) * weight / 4;
            area += patch;
            moment = moment + p * patch;
            volume += dot(p, normal) * weight / 4;
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
    else
        measure = measure_strip(face, surface, about);
    return measure && finite(*measure) ? measure : std::nullopt;
}

} // namespace touchmark::part
