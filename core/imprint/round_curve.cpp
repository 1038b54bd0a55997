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
           std::vector<LaidCurve>& out) {
    constexpr int deepest = 10;
    double off = 0;
    const ParameterCurve curve = carried(surface, segment, off);
    const SpaceCurve low = space_curve(surface, curve, heights[0]), high = space_curve(surface, curve, heights[1]);
    if (std::max({off, low.off, high.off}) <= fitted_within || depth == deepest) {
        out.push_back({curve, low, high});
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

/// Splits a contour where it crosses the generator at an angle.
class AngleSplitter {
public:
    AngleSplitter(const Unrolling& surface, double u) : surface_(surface), u_(u) {}

    bool split(geometry::Contour& contour) {
        if (is_clear(contour)) return true;
        snap(contour);
        geometry::Contour out;
        std::vector<Side> sides; // of each corner of `out`, before and after
        for (const Segment& segment : contour.segments)
            if (!add(segment, out, sides)) return false;
        if (!clean(out, sides)) return false;
        contour = std::move(out);
        return true;
    }

private:
    static constexpr double touching = 2e-6; // mm from the line that count as on it
    static constexpr int probes = 48;

    /// On which side of the line a segment starts and ends; 0: it runs along it.
    struct Side {
        int first = 0, last = 0;
    };

    /// How far round from the line, within half a turn.
    [[nodiscard]] double off(Vec2 p) const {
        const double angle = surface_.parameters(p).x - u_;
        return angle - turn * std::round(angle / turn);
    }
    [[nodiscard]] bool on_line(Vec2 p) const {
        return std::abs(off(p) * surface_.radius_at(surface_.parameters(p).y)) < touching;
    }

    /// Whether it is well off the line, as most are. Only on a cylinder, where a curve lies between its poles.
    [[nodiscard]] bool is_clear(const geometry::Contour& contour) const {
        if (surface_.sine != 0) return false;
        double low = 1e300, high = -1e300;
        for (const Segment& segment : contour.segments)
            for (int k = 0; k <= segment.degree; ++k) {
                const double angle = off(segment.points[static_cast<std::size_t>(k)]);
                low = std::min(low, angle);
                high = std::max(high, angle);
            }
        const double margin = 1e3 * touching / surface_.radius;
        return high - low < turn / 4 && (low > margin || high < -margin);
    }
    /// Corners that all but lie on the line are put on it.
    void snap(geometry::Contour& contour) const {
        const std::size_t count = contour.segments.size();
        for (std::size_t i = 0; i < count; ++i) {
            const Vec2 p = contour.segments[i].start();
            if (!on_line(p)) continue;
            const Vec2 uv = surface_.parameters(p), to = surface_.at({uv.x - off(p), uv.y});
            contour.segments[i].points[0] = to;
            Segment& before = contour.segments[(i + count - 1) % count];
            before.points[static_cast<std::size_t>(before.degree)] = to;
        }
    }

    bool add(const Segment& whole, geometry::Contour& out, std::vector<Side>& sides) const {
        std::array<double, probes + 1> at{};
        for (int i = 0; i <= probes; ++i)
            at[static_cast<std::size_t>(i)] = off(geometry::point_at(whole, static_cast<double>(i) / probes));
        const double radius = std::abs(surface_.radius_at(surface_.parameters(whole.start()).y));
        const auto is_on = [&](double angle) { return std::abs(angle * radius) < touching / 10; };
        if (std::all_of(at.begin(), at.end(), is_on)) {
            out.segments.push_back(Segment::line(whole.start(), whole.end()));
            sides.push_back({});
            return true;
        }
        std::vector<double> cuts;
        int side = 0, first = 0, last = 0;
        for (int i = 0; i <= probes; ++i) {
            const double angle = at[static_cast<std::size_t>(i)];
            if (is_on(angle)) continue;
            const int now = angle > 0 ? 1 : -1;
            if (side == 0) {
                if (i > 1) return false; // along the line for a while
                first = now;
            } else if (now == side) {
                if (i > last + 1) return false; // just touching it
            } else if (std::abs(angle - at[static_cast<std::size_t>(last)]) < turn / 4) {
                if (i > last + 2) return false;
                cuts.push_back(
                    crossing(whole, static_cast<double>(last) / probes, static_cast<double>(i) / probes, side));
            }
            side = now;
            last = i;
        }
        if (last < probes - 1) return false;
        if (side == 0) return false;
        Segment rest = whole;
        double done = 0;
        for (const double cut : cuts) {
            const auto [left, right] = geometry::split(rest, (cut - done) / (1 - done));
            out.segments.push_back(left);
            sides.push_back({first, first});
            first = -first;
            rest = right;
            done = cut;
        }
        out.segments.push_back(rest);
        sides.push_back({first, side});
        return true;
    }

    [[nodiscard]] double crossing(const Segment& segment, double low, double high, int side) const {
        for (int j = 0; j < 60; ++j) {
            const double middle = (low + high) / 2;
            ((off(geometry::point_at(segment, middle)) > 0) == (side > 0) ? low : high) = middle;
        }
        return (low + high) / 2;
    }

    /// No corner touches the line from one side with the region behind it.
    [[nodiscard]] bool clean(const geometry::Contour& contour, const std::vector<Side>& sides) const {
        const std::size_t count = contour.segments.size();
        for (std::size_t i = 0; i < count; ++i) {
            const std::size_t before = (i + count - 1) % count;
            const Segment &to = contour.segments[before], &from = contour.segments[i];
            if (sides[before].last == 0 || sides[i].first == 0 || sides[before].last != sides[i].first) continue;
            if (!on_line(from.start())) continue;
            if (cross(geometry::derivative_at(to, 1), geometry::derivative_at(from, 0)) >= 0) return false;
        }
        return true;
    }

    const Unrolling& surface_;
    double u_;
};

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

std::vector<LaidCurve> laid_curves(const Unrolling& surface, const Segment& segment, std::array<double, 2> heights) {
    std::vector<LaidCurve> out;
    carry(surface, segment, heights, 0, out);
    return out;
}

bool split_at_angle(const Unrolling& surface, double u, geometry::Contour& contour) {
    AngleSplitter splitter(surface, u);
    return splitter.split(contour);
}

} // namespace touchmark::imprint
