// SPDX-License-Identifier: MIT
#include "core/imprint/round_curve.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace touchmark::imprint {
namespace {

using geometry::Segment;
using surface::Unrolling;

constexpr double turn = 2 * std::numbers::pi;

template <class Point> Point bezier(std::array<Point, 6> poles, int degree, double t) {
    for (int k = degree; k > 0; --k)
        for (std::size_t i = 0; i < static_cast<std::size_t>(k); ++i)
            poles[i] = poles[i] * (1 - t) + poles[i + 1] * t;
    return poles[0];
}

/// Of the quintic with these values and derivatives at 0 and 1.
template <class Point>
std::array<Point, 6> hermite(const Point& p, const Point& p1, const Point& p2, const Point& q, const Point& q1,
                             const Point& q2) {
    return {p, p + p1 * 0.2, p + p1 * 0.4 + p2 * 0.05, q - q1 * 0.4 + q2 * 0.05, q - q1 * 0.2, q};
}

Unrolling::Jet jet_of(const Segment& segment, double t) {
    Unrolling::Jet jet{geometry::point_at(segment, t), geometry::derivative_at(segment, t), {}};
    const auto& p = segment.points;
    if (segment.degree == 2) jet.second = (p[0] - p[1] * 2 + p[2]) * 2;
    if (segment.degree == 3) jet.second = (p[0] - p[1] * 2 + p[2]) * (6 * (1 - t)) + (p[1] - p[2] * 2 + p[3]) * (6 * t);
    return jet;
}

/// A cone's parameters are not linear in the mark's mm.
ParameterCurve fitted(const Unrolling& surface, const Segment& segment, double& off) {
    const Unrolling::Jet a = surface.parameters(jet_of(segment, 0)), b = surface.parameters(jet_of(segment, 1));
    // The angle may jump by a turn where the unrolling ends; it goes on.
    const double by = turn * std::round((a.at.x - b.at.x) / turn);
    const Vec2 end{b.at.x + by, b.at.y};
    const ParameterCurve out{5, hermite(a.at, a.first, a.second, end, b.first, b.second)};
    for (const double t : {0.2, 0.35, 0.5, 0.65, 0.8})
        off = std::max(off, distance(surface.at(out.at(t)), geometry::point_at(segment, t)));
    return out;
}

ParameterCurve carried(const Unrolling& surface, const Segment& segment, double& off) {
    if (surface.sine != 0) return fitted(surface, segment, off);
    ParameterCurve out{segment.degree, {}};
    for (int k = 0; k <= segment.degree; ++k)
        out.poles[static_cast<std::size_t>(k)] = surface.parameters(segment.points[static_cast<std::size_t>(k)]);
    return out;
}

void carry(const Unrolling& surface, const Segment& segment, std::array<double, 2> heights, int depth,
           std::vector<ParameterCurve>& out) {
    constexpr int deepest = 10;
    double off = 0;
    const ParameterCurve curve = carried(surface, segment, off);
    for (const double height : heights)
        off = std::max(off, space_curve(surface, curve, height).off);
    if (off <= fitted_within || depth == deepest) {
        out.push_back(curve);
        return;
    }
    for (const Segment& half : geometry::split(segment, 0.5))
        carry(surface, half, heights, depth + 1, out);
}

struct SpaceJet {
    Vec3 at, first, second;
};

SpaceJet space_jet(const Unrolling& s, const Unrolling::Jet& uv, double height) {
    const double k = s.sine, c = s.cosine, u = uv.at.x;
    const double r = s.radius_at(uv.at.y) + height * s.outward * c;
    const Vec3 radial = s.x * std::cos(u) + s.y * std::sin(u), round = s.round_direction(u);
    const double du = uv.first.x, dv = uv.first.y, ddu = uv.second.x, ddv = uv.second.y;
    return {s.point(uv.at, height), radial * (k * dv) + round * (r * du) + s.z * (c * dv),
            radial * (k * ddv - r * du * du) + round * (2 * k * dv * du + r * ddu) + s.z * (c * ddv)};
}

} // namespace

Vec2 ParameterCurve::at(double t) const {
    return bezier(poles, degree, t);
}

Unrolling::Jet ParameterCurve::jet(double t) const {
    // By de Casteljau down to the last two points.
    std::array<Vec2, 6> p = poles;
    Unrolling::Jet out;
    for (int k = degree; k > 0; --k) {
        if (k == 2) out.second = (p[0] - p[1] * 2 + p[2]) * (degree * (degree - 1));
        if (k == 1) out.first = (p[1] - p[0]) * degree;
        for (std::size_t i = 0; i < static_cast<std::size_t>(k); ++i)
            p[i] = p[i] * (1 - t) + p[i + 1] * t;
    }
    out.at = p[0];
    return out;
}

SpaceCurve space_curve(const Unrolling& surface, const ParameterCurve& curve, double height) {
    const SpaceJet a = space_jet(surface, curve.jet(0), height), b = space_jet(surface, curve.jet(1), height);
    SpaceCurve out{hermite(a.at, a.first, a.second, b.at, b.first, b.second), 0};
    for (const double t : {0.2, 0.35, 0.5, 0.65, 0.8})
        out.off = std::max(out.off, distance(bezier(out.poles, 5, t), surface.point(curve.at(t), height)));
    return out;
}

std::vector<ParameterCurve> parameter_curves(const Unrolling& surface, const Segment& segment,
                                             std::array<double, 2> heights) {
    std::vector<ParameterCurve> out;
    carry(surface, segment, heights, 0, out);
    return out;
}

bool split_at_angle(const Unrolling& surface, double u, geometry::Contour& contour) {
    constexpr int probes = 48;
    constexpr double touching = 2e-6; // mm
    // How far round from the line, as an angle within half a turn.
    const auto off = [&](Vec2 p) {
        const double angle = surface.parameters(p).x - u;
        return angle - turn * std::round(angle / turn);
    };
    geometry::Contour out;
    for (const Segment& whole : contour.segments) {
        const Vec2 start = surface.parameters(whole.start());
        if (std::abs(off(whole.start()) * surface.radius_at(start.y)) < touching) return false;
        Segment rest = whole;
        double before = off(whole.start()), done = 0;
        for (int i = 1; i <= probes; ++i) {
            const double t = static_cast<double>(i) / probes, now = off(geometry::point_at(whole, t));
            if (before * now > 0 || std::abs(before - now) > turn / 4) {
                before = now;
                continue;
            }
            double low = static_cast<double>(i - 1) / probes, high = t;
            for (int j = 0; j < 60; ++j) {
                const double middle = (low + high) / 2;
                ((off(geometry::point_at(whole, middle)) > 0) == (before > 0) ? low : high) = middle;
            }
            const double cut = (low + high) / 2;
            const auto [left, right] = geometry::split(rest, (cut - done) / (1 - done));
            out.segments.push_back(left);
            rest = right;
            done = cut;
            before = now;
        }
        out.segments.push_back(rest);
    }
    contour = std::move(out);
    return true;
}

} // namespace touchmark::imprint
