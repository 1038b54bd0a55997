// SPDX-License-Identifier: MIT
#include "core/part/face_integral.h"

#include "core/part/face_boundary.h"
#include "core/part/freeform_integral.h"
#include "core/part/vectors.h"

#include <BRepGProp_Domain.hxx>
#include <BRepGProp_Face.hxx>
#include <BRepGProp_Sinert.hxx>
#include <BRepGProp_Vinert.hxx>
#include <TopExp_Explorer.hxx>
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

SurfaceSum on_plane(const Elementary& s, double u, double v) {
    const Vec3 normal = cross(s.x, s.y);
    return {v, dot(s.origin, normal) * v, s.origin * v + s.x * (u * v) + s.y * (v * v / 2)};
}

/// Radius ρ = major + v·sine at the height v·cosine; a cylinder has sine 0.
SurfaceSum on_cone(const Elementary& s, double u, double v) {
    const Vec3 e = s.radial(u);
    const double r = s.major, k = s.sine;
    const double ring = r * v + k * v * v / 2;                                     // ∫ρ
    const double ring_squared = r * r * v + r * k * v * v + k * k * v * v * v / 3; // ∫ρ²
    const double ring_height = r * v * v / 2 + k * v * v * v / 3;                  // ∫ρv
    const double reach = s.cosine * (dot(s.origin, e) + r) - k * dot(s.origin, s.z);
    return {ring, reach * ring, s.origin * ring + e * ring_squared + s.z * (s.cosine * ring_height)};
}

SurfaceSum on_sphere(const Elementary& s, double u, double v) {
    const Vec3 e = s.radial(u);
    const double r = s.major, sin_v = std::sin(v);
    const double cos_squared = v / 2 + std::sin(2 * v) / 4, sin_cos = sin_v * sin_v / 2; // ∫cos², ∫sin cos
    const Vec3 outward = e * cos_squared + s.z * sin_cos;
    return {r * r * sin_v, r * r * (dot(s.origin, outward) + r * sin_v), (s.origin * sin_v + outward * r) * (r * r)};
}

SurfaceSum on_torus(const Elementary& s, double u, double v) {
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

template <class Primitive> SurfaceSum around(const std::vector<BoundarySample>& boundary, Primitive&& primitive) {
    SurfaceSum sum;
    for (const BoundarySample& sample : boundary)
        if (sample.du != 0) sum.add(-sample.du, primitive(sample.u, sample.v));
    return sum;
}

SurfaceSum over_plane(const gp_Ax3& axes, const std::vector<BoundarySample>& boundary, const Middle& middle,
                      const Vec3& about) {
    Elementary s = elementary(axes, about);
    s.origin = s.origin + s.x * middle.u + s.y * middle.v;
    return around(boundary, [&](double u, double v) { return on_plane(s, u - middle.u, v - middle.v); });
}

SurfaceSum over_cone(const gp_Ax3& axes, double radius, double angle, const std::vector<BoundarySample>& boundary,
                     const Middle& middle, const Vec3& about) {
    Elementary s = elementary(axes, about);
    s.sine = std::sin(angle);
    s.cosine = std::cos(angle);
    s.major = radius + middle.v * s.sine;
    s.origin = s.origin + s.z * (middle.v * s.cosine);
    SurfaceSum sum = around(boundary, [&](double u, double v) { return on_cone(s, u, v - middle.v); });
    if (s.major < 0) { // beyond the apex
        sum.area = -sum.area;
        sum.moment = -sum.moment;
    }
    return sum;
}

template <class Primitive>
SurfaceSum over_round(const gp_Ax3& axes, double major, double minor, const std::vector<BoundarySample>& boundary,
                      const Middle& middle, const Vec3& about, Primitive&& primitive) {
    Elementary s = elementary(axes, about);
    s.major = major;
    s.minor = minor;
    return around(boundary, [&](double u, double v) {
        SurfaceSum sum = primitive(s, u, v);
        sum.add(-1, primitive(s, u, middle.v));
        return sum;
    });
}

/// Left-handed axes: ∂u × ∂v points the other way.
SurfaceSum handed(SurfaceSum sum, const gp_Ax3& axes) {
    if (!axes.Direct()) sum.volume = -sum.volume;
    return sum;
}

SurfaceSum over_cylinder(const gp_Cylinder& cylinder, const std::vector<BoundarySample>& boundary, const Middle& middle,
                         const Vec3& about) {
    return handed(over_cone(cylinder.Position(), cylinder.Radius(), 0, boundary, middle, about), cylinder.Position());
}

std::optional<SurfaceSum> integrate_elementary(const BRepAdaptor_Surface& surface,
                                               const std::vector<BoundarySample>& boundary, const Vec3& about) {
    const Middle middle = middle_of(boundary);
    switch (surface.GetType()) {
    case GeomAbs_Plane:
        return over_plane(surface.Plane().Position(), boundary, middle, about);
    case GeomAbs_Cylinder:
        return over_cylinder(surface.Cylinder(), boundary, middle, about);
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

std::optional<SurfaceSum> sum_of(const TopoDS_Face& face, const BRepAdaptor_Surface& surface, const Vec3& about) {
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
    return integrate_freeform(face, surface, about);
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

bool needs_range(const TopoDS_Face& face, const BRepAdaptor_Surface& surface) {
    switch (surface.GetType()) {
    case GeomAbs_Plane:
    case GeomAbs_Cylinder:
    case GeomAbs_Cone:
    case GeomAbs_Sphere:
        return !TopExp_Explorer(face, TopAbs_WIRE).More();
    default:
        return true;
    }
}

FaceIntegral integral_of(const SurfaceSum& sum, bool reversed, const Vec3& about) {
    // Wires that run the wrong way round give everything the wrong sign.
    const double side = sum.area < 0 ? -1 : 1;
    FaceIntegral out;
    out.area = sum.area * side;
    out.volume = sum.volume * side / 3 * (reversed ? -1 : 1);
    if (out.area > 0) out.centroid = about + sum.moment * (side / out.area);
    return out;
}

} // namespace

FaceIntegral integrate(const gp_Cylinder& cylinder, const std::vector<BoundarySample>& boundary, bool reversed,
                       const Vec3& about) {
    return integral_of(over_cylinder(cylinder, boundary, middle_of(boundary), about), reversed, about);
}

std::optional<FaceIntegral> integrate(const TopoDS_Face& face, const Vec3& about) {
    BRepAdaptor_Surface surface(face, Standard_False); // without the face's range, which takes time and often is not
    if (needs_range(face, surface)) surface.Initialize(face); // needed
    const auto sum = sum_of(face, surface, about);
    if (!sum) return general_integral(face, about);
    const FaceIntegral out = integral_of(*sum, face.Orientation() == TopAbs_REVERSED, about);
    if (!std::isfinite(out.area) || !std::isfinite(out.volume)) return std::nullopt;
    return out;
}

} // namespace touchmark::part
