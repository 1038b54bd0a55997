// SPDX-License-Identifier: MIT
#include "core/part/face_integral.h"

#include "core/part/face_boundary.h"
#include "core/part/vectors.h"

#include <BRepGProp_Domain.hxx>
#include <BRepGProp_Face.hxx>
#include <BRepGProp_Sinert.hxx>
#include <BRepGProp_Vinert.hxx>
#include <Geom_BSplineSurface.hxx>
#include <TColStd_Array1OfReal.hxx>
#include <gp_Cone.hxx>
#include <gp_Cylinder.hxx>
#include <gp_Pln.hxx>
#include <gp_Sphere.hxx>
#include <gp_Torus.hxx>

#include <algorithm>
#include <cmath>

// Green's theorem turns the integral over the trimmed parameter plane into one along its boundary:
//   ∫∫ f du dv = −∮ F du  with  ∂F/∂v = f.
// On the elementary surfaces F is known in closed form, which leaves one dimension of quadrature.

namespace touchmark::part {
namespace {

struct Sum {
    double area = 0, volume = 0;
    Vec3 moment;

    void add(double weight, const Sum& other) {
        area += weight * other.area;
        volume += weight * other.volume;
        moment = moment + other.moment * weight;
    }
};

/// An elementary surface: F at (u, v), with the axes' origin relative to the reference point.
struct Elementary {
    Vec3 x, y, z, origin;
    double major = 0, minor = 0, sine = 0, cosine = 1;

    [[nodiscard]] Vec3 radial(double u) const { return x * std::cos(u) + y * std::sin(u); }
};

Elementary elementary(const gp_Ax3& axes, const Vec3& about) {
    Elementary out;
    out.x = vec(axes.XDirection());
    out.y = vec(axes.YDirection());
    out.z = vec(axes.Direction());
    out.origin = vec(axes.Location()) - about;
    return out;
}

Sum on_plane(const Elementary& s, double u, double v) {
    const Vec3 normal = cross(s.x, s.y);
    return {v, dot(s.origin, normal) * v, s.origin * v + s.x * (u * v) + s.y * (v * v / 2)};
}

/// Radius ρ = major + v·sine at the height v·cosine; a cylinder has sine 0.
Sum on_cone(const Elementary& s, double u, double v) {
    const Vec3 e = s.radial(u);
    const double r = s.major, k = s.sine;
    const double ring = r * v + k * v * v / 2;                                     // ∫ρ
    const double ring_squared = r * r * v + r * k * v * v + k * k * v * v * v / 3; // ∫ρ²
    const double ring_height = r * v * v / 2 + k * v * v * v / 3;                  // ∫ρv
    const double reach = s.cosine * (dot(s.origin, e) + r) - k * dot(s.origin, s.z);
    return {ring, reach * ring, s.origin * ring + e * ring_squared + s.z * (s.cosine * ring_height)};
}

Sum on_sphere(const Elementary& s, double u, double v) {
    const Vec3 e = s.radial(u);
    const double r = s.major, sin_v = std::sin(v);
    const double cos_squared = v / 2 + std::sin(2 * v) / 4, sin_cos = sin_v * sin_v / 2; // ∫cos², ∫sin cos
    const Vec3 outward = e * cos_squared + s.z * sin_cos;
    return {r * r * sin_v, r * r * (dot(s.origin, outward) + r * sin_v), (s.origin * sin_v + outward * r) * (r * r)};
}

Sum on_torus(const Elementary& s, double u, double v) {
    const Vec3 e = s.radial(u);
    const double R = s.major, r = s.minor, sin_v = std::sin(v), cos_v = std::cos(v);
    const double cos_squared = v / 2 + std::sin(2 * v) / 4;
    const double ring = R * v + r * sin_v;                                           // ∫ρ, ρ = R + r cos v
    const double ring_squared = R * R * v + 2 * R * r * sin_v + r * r * cos_squared; // ∫ρ²
    const double ring_sin = -R * cos_v - r * cos_v * cos_v / 2;                      // ∫ρ sin
    const double ring_cos = R * sin_v + r * cos_squared;                             // ∫ρ cos
    return {r * ring, r * (dot(s.origin, e * ring_cos + s.z * ring_sin) + R * ring_cos + r * ring),
            (s.origin * ring + e * ring_squared + s.z * (r * ring_sin)) * r};
}

/// Where the primitive is to be zero. Boundaries have gaps as large as the tolerance; the nearer the zero, the less
/// they count.
struct Middle {
    double u = 0, v = 0;
};

Middle middle_of(const std::vector<BoundarySample>& boundary) {
    Box2 box;
    for (const BoundarySample& sample : boundary)
        box.add(Vec2{sample.u, sample.v});
    return box.empty() ? Middle{} : Middle{box.centre().x, box.centre().y};
}

template <class Primitive> Sum around(const std::vector<BoundarySample>& boundary, Primitive&& primitive) {
    Sum sum;
    for (const BoundarySample& sample : boundary)
        if (sample.du != 0) sum.add(-sample.du, primitive(sample.u, sample.v));
    return sum;
}

Sum over_plane(const gp_Ax3& axes, const std::vector<BoundarySample>& boundary, const Middle& middle,
               const Vec3& about) {
    Elementary s = elementary(axes, about);
    s.origin = s.origin + s.x * middle.u + s.y * middle.v;
    return around(boundary, [&](double u, double v) { return on_plane(s, u - middle.u, v - middle.v); });
}

Sum over_cone(const gp_Ax3& axes, double radius, double angle, const std::vector<BoundarySample>& boundary,
              const Middle& middle, const Vec3& about) {
    Elementary s = elementary(axes, about);
    s.sine = std::sin(angle);
    s.cosine = std::cos(angle);
    s.major = radius + middle.v * s.sine;
    s.origin = s.origin + s.z * (middle.v * s.cosine);
    Sum sum = around(boundary, [&](double u, double v) { return on_cone(s, u, v - middle.v); });
    if (s.major < 0) { // beyond the apex
        sum.area = -sum.area;
        sum.moment = -sum.moment;
    }
    return sum;
}

template <class Primitive>
Sum over_round(const gp_Ax3& axes, double major, double minor, const std::vector<BoundarySample>& boundary,
               const Middle& middle, const Vec3& about, Primitive&& primitive) {
    Elementary s = elementary(axes, about);
    s.major = major;
    s.minor = minor;
    return around(boundary, [&](double u, double v) {
        Sum sum = primitive(s, u, v);
        sum.add(-1, primitive(s, u, middle.v));
        return sum;
    });
}

std::optional<Sum> integrate_elementary(const BRepAdaptor_Surface& surface, const std::vector<BoundarySample>& boundary,
                                        const Vec3& about) {
    const Middle middle = middle_of(boundary);
    // Left-handed axes: ∂u × ∂v points the other way.
    const auto handed = [](Sum sum, const gp_Ax3& axes) {
        if (!axes.Direct()) sum.volume = -sum.volume;
        return sum;
    };
    switch (surface.GetType()) {
    case GeomAbs_Plane:
        return over_plane(surface.Plane().Position(), boundary, middle, about);
    case GeomAbs_Cylinder: {
        const gp_Cylinder cylinder = surface.Cylinder();
        return handed(over_cone(cylinder.Position(), cylinder.Radius(), 0, boundary, middle, about),
                      cylinder.Position());
    }
    case GeomAbs_Cone: {
        const gp_Cone cone = surface.Cone();
        return handed(over_cone(cone.Position(), cone.RefRadius(), cone.SemiAngle(), boundary, middle, about),
                      cone.Position());
    }
    case GeomAbs_Sphere: {
        const gp_Sphere sphere = surface.Sphere();
        return handed(over_round(sphere.Position(), sphere.Radius(), 0, boundary, middle, about, on_sphere),
                      sphere.Position());
    }
    case GeomAbs_Torus: {
        const gp_Torus torus = surface.Torus();
        if (torus.MajorRadius() < torus.MinorRadius()) return std::nullopt; // crosses its axis
        return handed(
            over_round(torus.Position(), torus.MajorRadius(), torus.MinorRadius(), boundary, middle, about, on_torus),
            torus.Position());
    }
    default:
        return std::nullopt;
    }
}

double angle(const gp_Vec& a, const gp_Vec& b) {
    return a.SquareMagnitude() > 0 && b.SquareMagnitude() > 0 ? a.Angle(b) : 0;
}

/// How far the surface's line along one parameter turns between `from` and `to`, or its normal if that turns more, in
/// radians.
double turning(const BRepAdaptor_Surface& surface, bool in_u, double from, double to, double across) {
    constexpr int probes = 4;
    double turn = 0, tilt = 0;
    gp_Pnt point;
    gp_Vec du, dv, along_before, normal_before;
    for (int i = 0; i <= probes; ++i) {
        const double at = from + (to - from) * i / probes;
        in_u ? surface.D1(at, across, point, du, dv) : surface.D1(across, at, point, du, dv);
        const gp_Vec &along = in_u ? du : dv, normal = du.Crossed(dv);
        if (i > 0) {
            turn += angle(along_before, along);
            tilt += angle(normal_before, normal);
        }
        along_before = along;
        normal_before = normal;
    }
    return std::max(turn, tilt);
}

/// Whether a piece of the surface is, in one parameter, a polynomial of so low a degree that it need not be halved.
bool is_low(const BRepAdaptor_Surface& surface, bool in_u) {
    if (surface.GetType() != GeomAbs_BSplineSurface) return false;
    const Geom_BSplineSurface& spline = *surface.Surface().BSpline();
    const int degree = in_u ? spline.UDegree() : spline.VDegree();
    if (degree > 2) return false;
    if (!spline.IsURational() && !spline.IsVRational()) return true;
    const int rows = in_u ? spline.NbVPoles() : spline.NbUPoles();
    const int poles = in_u ? spline.NbUPoles() : spline.NbVPoles();
    for (int row = 1; row <= rows; ++row)
        for (int i = 2; i <= poles; ++i) {
            const double weight = in_u ? spline.Weight(i, row) : spline.Weight(row, i);
            const double before = in_u ? spline.Weight(i - 1, row) : spline.Weight(row, i - 1);
            if (std::abs(weight - before) > 1e-9 * before) return false;
        }
    return true;
}

/// The knots of a B-spline surface that lie in the face's range, with both ends of that. OpenCASCADE's own intervals of
/// the surface leave knots out where the line it looks at is collapsed to a pole.
std::vector<double> knots_between(const Geom_BSplineSurface& spline, bool in_u, double first, double last) {
    const bool periodic = in_u ? spline.IsUPeriodic() : spline.IsVPeriodic();
    const int count = in_u ? spline.NbUKnots() : spline.NbVKnots();
    const auto knot = [&](int i) { return in_u ? spline.UKnot(i) : spline.VKnot(i); };
    const double period = knot(count) - knot(1), tiny = 1e-9 * (last - first);
    const double from = periodic ? std::floor((first - knot(1)) / period) * period : 0;
    std::vector<double> ends{first};
    for (double shift = from; shift + knot(1) < last; shift += period) {
        for (int i = 1; i <= count; ++i)
            if (const double at = knot(i) + shift; at > ends.back() + tiny && at < last - tiny) ends.push_back(at);
        if (!periodic) break;
    }
    ends.push_back(last);
    return ends;
}

/// The ends of the pieces within which the surface is smooth, in one parameter.
std::vector<double> smooth_pieces(const BRepAdaptor_Surface& surface, bool in_u) {
    const double first = in_u ? surface.FirstUParameter() : surface.FirstVParameter();
    const double last = in_u ? surface.LastUParameter() : surface.LastVParameter();
    if (surface.GetType() == GeomAbs_BSplineSurface)
        return knots_between(*surface.Surface().BSpline(), in_u, first, last);
    const int count = in_u ? surface.NbUIntervals(GeomAbs_CN) : surface.NbVIntervals(GeomAbs_CN);
    TColStd_Array1OfReal ends(1, count + 1);
    in_u ? surface.UIntervals(ends, GeomAbs_CN) : surface.VIntervals(ends, GeomAbs_CN);
    return {ends.begin(), ends.end()};
}

/// The ends of the pieces within which the surface is smooth and turns little, in one parameter.
std::vector<double> spans(const BRepAdaptor_Surface& surface, bool in_u) {
    const std::vector<double> ends = smooth_pieces(surface, in_u);
    const double low = in_u ? surface.FirstVParameter() : surface.FirstUParameter();
    const double high = in_u ? surface.LastVParameter() : surface.LastUParameter();
    const double fewest = ends.size() < 4 && !is_low(surface, in_u) ? 2 : 1;
    std::vector<double> out{ends.front()};
    for (std::size_t i = 0; i + 1 < ends.size(); ++i) {
        double turn = 0;
        for (const double across : {0.1, 0.5, 0.9})
            turn = std::max(turn, turning(surface, in_u, ends[i], ends[i + 1], low + (high - low) * across));
        const int pieces = static_cast<int>(std::clamp(std::ceil(turn / 0.8), fewest, 64.0));
        for (int piece = 1; piece <= pieces; ++piece)
            out.push_back(ends[i] + (ends[i + 1] - ends[i]) * piece / pieces);
    }
    return out;
}

std::size_t span_of(const std::vector<double>& ends, double at) {
    const auto above = std::upper_bound(ends.begin() + 1, ends.end() - 1, at);
    return static_cast<std::size_t>(above - ends.begin()) - 1;
}

/// The inner integral runs along `inner` from the surface's edge to the boundary, the outer one along the other
/// parameter. Points are taken cell by cell of the surface's spans, for the evaluator keeps the last cell in a form
/// that is quick.
class Freeform {
public:
    Freeform(const BRepAdaptor_Surface& surface, const Vec3& about, const std::vector<double>& inner,
             const std::vector<double>& outer, bool inner_is_u)
        : surface_(surface), about_(about), inner_(inner), outer_(outer), inner_is_u_(inner_is_u) {}

    Sum run(const std::vector<BoundarySample>& boundary) {
        std::vector<std::vector<Ray>> rows(outer_.size() - 1);
        for (const BoundarySample& sample : boundary) {
            const Ray ray = inner_is_u_ ? Ray{sample.v, sample.u, sample.dv} : Ray{sample.u, sample.v, -sample.du};
            if (ray.weight != 0) rows[span_of(outer_, ray.at)].push_back(ray);
        }
        Sum sum;
        for (const auto& row : rows)
            for (std::size_t cell = 0; cell + 1 < inner_.size(); ++cell)
                for (const Ray& ray : row)
                    add(ray, cell, sum);
        return sum;
    }

private:
    struct Ray {
        double at, end, weight;
    };
    void add(const Ray& ray, std::size_t cell, Sum& sum) const {
        const double from = inner_[cell],
                     to = cell + 2 == inner_.size() ? ray.end : std::min(ray.end, inner_[cell + 1]);
        if (cell == 0 ? to == from : to <= from) return; // a boundary may lie a rounding error outside
        const double half = (to - from) / 2;
        for (const GaussNode& node : gauss_4)
            sum.add(ray.weight * half * node.weight, at(from + half * (1 + node.at), ray.at));
    }
    [[nodiscard]] Sum at(double inner, double outer) const {
        gp_Pnt p;
        gp_Vec du, dv;
        inner_is_u_ ? surface_.D1(inner, outer, p, du, dv) : surface_.D1(outer, inner, p, du, dv);
        const Vec3 normal = cross(vec(du), vec(dv)), from_reference = vec(p) - about_;
        const double area = length(normal);
        return {area, dot(from_reference, normal), from_reference * area};
    }

    const BRepAdaptor_Surface& surface_;
    Vec3 about_;
    const std::vector<double>&inner_, &outer_;
    bool inner_is_u_;
};

Sum integrate_freeform(const BRepAdaptor_Surface& surface, const std::vector<double>& u, const std::vector<double>& v,
                       const std::vector<BoundarySample>& boundary, const Vec3& about) {
    // Edges along the inner parameter cost nothing: take the direction with less to do.
    std::size_t along_u = 0, along_v = 0;
    for (const BoundarySample& sample : boundary) {
        along_u += sample.dv != 0 ? u.size() : 0;
        along_v += sample.du != 0 ? v.size() : 0;
    }
    return along_u <= along_v ? Freeform(surface, about, u, v, true).run(boundary)
                              : Freeform(surface, about, v, u, false).run(boundary);
}

bool has_high_degree(const BRepAdaptor_Surface& surface) {
    return surface.GetType() == GeomAbs_BSplineSurface && std::max(surface.UDegree(), surface.VDegree()) > 3;
}

std::optional<Sum> sum_of(const TopoDS_Face& face, const BRepAdaptor_Surface& surface, const Vec3& about) {
    constexpr double eighth = 0.7853981633974483, any = 1e100;
    const auto type = surface.GetType();
    const bool round_in_v = type == GeomAbs_Torus || type == GeomAbs_Sphere;
    const bool round_in_u = round_in_v || type == GeomAbs_Cylinder || type == GeomAbs_Cone;
    if (type == GeomAbs_Plane || round_in_u) {
        const double easy = round_in_u ? 0 : any;
        const auto boundary =
            boundary_samples(face, surface, {round_in_u ? eighth : any, round_in_v ? eighth : any, {}, {}, easy, easy});
        if (!boundary) return std::nullopt;
        if (const auto sum = integrate_elementary(surface, *boundary, about)) return sum;
    }
    const std::vector<double> u = spans(surface, true), v = spans(surface, false);
    const double easy = has_high_degree(surface) ? 0 : 0.25; // of the range
    const Smoothness smoothness{any, any, u, v, easy * (u.back() - u.front()), easy * (v.back() - v.front())};
    const auto boundary = boundary_samples(face, surface, smoothness);
    if (!boundary) return std::nullopt;
    return integrate_freeform(surface, u, v, *boundary, about);
}

std::optional<FaceIntegral> general_integral(const TopoDS_Face& face, const Vec3& about) {
    BRepGProp_Face integrand(face);
    BRepGProp_Domain domain(face);
    const BRepGProp_Sinert surface(integrand, domain, point(about));
    domain.Init();
    const BRepGProp_Vinert volume(integrand, domain, point(about));
    FaceIntegral out{surface.Mass(), vec(surface.CentreOfMass()), volume.Mass()};
    if (!std::isfinite(out.area) || !std::isfinite(out.volume)) return std::nullopt;
    return out;
}

} // namespace

std::optional<FaceIntegral> integrate(const TopoDS_Face& face, const Vec3& about) {
    const BRepAdaptor_Surface surface(face);
    const auto sum = sum_of(face, surface, about);
    if (!sum) return general_integral(face, about);
    // Wires that run the wrong way round give everything the wrong sign.
    const double side = sum->area < 0 ? -1 : 1;
    FaceIntegral out;
    out.area = sum->area * side;
    out.volume = sum->volume * side / 3 * (face.Orientation() == TopAbs_REVERSED ? -1 : 1);
    if (out.area > 0) out.centroid = about + sum->moment * (side / out.area);
    if (!std::isfinite(out.area) || !std::isfinite(out.volume)) return std::nullopt;
    return out;
}

} // namespace touchmark::part
