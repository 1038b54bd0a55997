// SPDX-License-Identifier: MIT
#include "core/surface/unrolling.h"

#include <cmath>
#include <numbers>

namespace touchmark::surface {
namespace {

constexpr double turn = 2 * std::numbers::pi;

Vec3 radial(const Unrolling& s, double u) {
    return s.x * std::cos(u) + s.y * std::sin(u);
}

/// Signed distance of the unrolling's centre from a cone's apex, along the generator.
double reach(const Unrolling& s) {
    return s.centre.y - s.apex();
}

} // namespace

// A cone is rolled out about its apex: a point at the distance ρ from it and at the angle u about the axis comes to
// lie at the angle (u − u₀) sin α, where ρ sin α is the radius about the axis.

double Unrolling::radius_at(double v) const {
    return radius + v * sine;
}

double Unrolling::apex() const {
    return -radius / sine;
}

Vec3 Unrolling::point(Vec2 uv, double height) const {
    return place(uv, height).point;
}

Vec3 Unrolling::normal(double u) const {
    return (radial(*this, u) * cosine - z * sine) * outward;
}

Unrolling::Place Unrolling::place(Vec2 uv, double height) const {
    const Vec3 away = radial(*this, uv.x), out = (away * cosine - z * sine) * outward;
    return {origin + away * (radius + uv.y * sine) + z * (uv.y * cosine) + out * height, out};
}

Vec3 Unrolling::round_direction(double u) const {
    return y * std::cos(u) - x * std::sin(u);
}

Vec3 Unrolling::straight_direction(double u) const {
    return radial(*this, u) * sine + z * cosine;
}

Vec2 Unrolling::parameters(Vec2 at) const {
    const Vec2 p = at - shift;
    if (sine == 0) return {centre.x + dot(p, across) / radius, centre.y + dot(p, along)};
    return parameters(Jet{at, {}, {}}).at;
}

Vec2 Unrolling::at(Vec2 uv) const {
    double a = radius * (uv.x - centre.x), b = uv.y - centre.y;
    if (sine != 0) {
        const double angle = (uv.x - centre.x) * sine, distance = uv.y - apex();
        a = distance * std::sin(angle);
        b = distance * std::cos(angle) - reach(*this);
    }
    return shift + across * a + along * b;
}

Vec2 Unrolling::parameters_near(const Vec3& p) const {
    const Vec3 d = p - origin;
    const double h = dot(d, z), r = nappe * std::hypot(dot(d, x), dot(d, y));
    double u = r != 0 ? std::atan2(nappe * dot(d, y), nappe * dot(d, x)) : centre.x;
    u += turn * std::round((centre.x - u) / turn);
    return {u, (r - radius) * sine + h * cosine};
}

double Unrolling::height_of(const Vec3& p) const {
    const Vec3 d = p - origin;
    const double h = dot(d, z), r = nappe * std::hypot(dot(d, x), dot(d, y));
    return ((r - radius) * cosine - h * sine) * outward;
}

Vec3 Unrolling::x_direction(Vec2 at) const {
    const double u = parameters(at).x, angle = (u - centre.x) * sine;
    const double a = across.x, b = along.x; // the x axis in the rolled-out plane
    const double round = a * std::cos(angle) - b * std::sin(angle),
                 straight = a * std::sin(angle) + b * std::cos(angle);
    return normalised(round_direction(u) * round + straight_direction(u) * straight);
}

Vec2 Unrolling::turned(Vec2 point, int turns) const {
    const Vec2 uv = parameters(point);
    return at({uv.x + turn * turns, uv.y});
}

double Unrolling::axis_height(double v) const {
    return -radius_at(v) / cosine * outward;
}

Unrolling::Jet Unrolling::parameters(const Jet& mark) const {
    const auto unrolled = [&](Vec2 p) { return Vec2{dot(p, across), dot(p, along)}; };
    const Vec2 p = unrolled(mark.at - shift), d = unrolled(mark.first), dd = unrolled(mark.second);
    if (sine == 0) return {{centre.x + p.x / radius, centre.y + p.y}, {d.x / radius, d.y}, {dd.x / radius, dd.y}};
    // Polar coordinates about the apex, with the sign of the reach.
    const double sign = reach(*this) < 0 ? -1 : 1;
    const Vec2 q{p.x * sign, (p.y + reach(*this)) * sign}, q1 = d * sign, q2 = dd * sign;
    const double rho = length(q);
    if (rho < 1e-12) return {{centre.x, apex()}, {}, {}};
    const double rho1 = dot(q, q1) / rho, rho2 = (dot(q1, q1) + dot(q, q2) - rho1 * rho1) / rho;
    const double turning = q.y * q1.x - q.x * q1.y, angle1 = turning / (rho * rho);
    const double angle2 = (q.y * q2.x - q.x * q2.y) / (rho * rho) - 2 * rho1 * angle1 / rho;
    return {{centre.x + std::atan2(q.x, q.y) / sine, apex() + sign * rho},
            {angle1 / sine, sign * rho1},
            {angle2 / sine, sign * rho2}};
}

} // namespace touchmark::surface
