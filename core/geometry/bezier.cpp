// SPDX-License-Identifier: MIT
#include "core/geometry/bezier.h"

#include <algorithm>
#include <cmath>

namespace touchmark::geometry {
namespace {

/// Parameters in (0, 1) where one coordinate of the derivative vanishes.
int turning_points(double p0, double p1, double p2, double p3, int degree, std::array<double, 2>& at) {
    int count = 0;
    auto take = [&](double t) {
        if (t > 0 && t < 1) at[static_cast<std::size_t>(count++)] = t;
    };
    if (degree == 2) {
        const double bend = p0 - 2 * p1 + p2;
        if (bend != 0) take((p0 - p1) / bend);
        return count;
    }
    const double a = -p0 + 3 * p1 - 3 * p2 + p3, b = 2 * (p0 - 2 * p1 + p2), c = p1 - p0;
    const double discriminant = b * b - 4 * a * c;
    if (discriminant < 0) return 0;
    const double q = -0.5 * (b + std::copysign(std::sqrt(discriminant), b));
    if (a != 0) take(q / a);
    if (q != 0) take(c / q);
    return count;
}

double second_difference(const Segment& segment) {
    double largest = 0;
    for (int i = 0; i + 2 <= segment.degree; ++i) {
        const auto k = static_cast<std::size_t>(i);
        largest = std::max(largest, length(segment.points[k] - segment.points[k + 1] * 2 + segment.points[k + 2]));
    }
    return largest * segment.degree * (segment.degree - 1);
}

/// Signed crossings of the ray from p to x = -∞ by the segment.
int crossings(const Segment& segment, Vec2 p, int depth) {
    const Box2 box = hull_box(segment);
    if (p.y < box.low.y || p.y > box.high.y || box.low.x > p.x) return 0;
    const Vec2 a = segment.start(), b = segment.end();
    const int net = (a.y <= p.y) == (b.y <= p.y) ? 0 : a.y <= p.y ? -1 : 1;
    if (box.high.x < p.x) return net;
    if (segment.degree == 1 || depth == 0) {
        const double side = cross(b - a, p - a);
        return net < 0 ? (side < 0 ? net : 0) : net > 0 ? (side > 0 ? net : 0) : 0;
    }
    const auto halves = split(segment, 0.5);
    return crossings(halves[0], p, depth - 1) + crossings(halves[1], p, depth - 1);
}

} // namespace

Box2 hull_box(const Segment& segment) {
    Box2 box;
    for (int i = 0; i <= segment.degree; ++i)
        box.add(segment.points[static_cast<std::size_t>(i)]);
    return box;
}

Box2 bounds(const Segment& segment) {
    Box2 box;
    box.add(segment.start());
    box.add(segment.end());
    if (segment.degree == 1) return box;
    const auto& p = segment.points;
    std::array<double, 2> at{};
    auto add = [&](int count) {
        for (int i = 0; i < count; ++i)
            box.add(point_at(segment, at[static_cast<std::size_t>(i)]));
    };
    add(turning_points(p[0].x, p[1].x, p[2].x, p[3].x, segment.degree, at));
    add(turning_points(p[0].y, p[1].y, p[2].y, p[3].y, segment.degree, at));
    return box;
}

double chord_error(const Segment& segment) {
    return segment.degree == 1 ? 0 : second_difference(segment) / 8;
}

double control_length(const Segment& segment) {
    double sum = 0;
    for (int i = 0; i < segment.degree; ++i) {
        const auto k = static_cast<std::size_t>(i);
        sum += distance(segment.points[k], segment.points[k + 1]);
    }
    return sum;
}

int pieces_within(const Segment& segment, double tolerance) {
    if (segment.degree == 1) return 1;
    const double pieces = std::ceil(std::sqrt(chord_error(segment) / tolerance));
    return static_cast<int>(std::clamp(pieces, 1.0, 65536.0));
}

Segment part_of(const Segment& segment, double from, double to) {
    if (from > to) return reversed(part_of(segment, to, from));
    Segment part = segment;
    if (to < 1) part = split(part, to)[0];
    if (from > 0) part = split(part, from / to)[1];
    return part;
}

Segment with_ends(Segment segment, Vec2 a, Vec2 b) {
    const auto n = static_cast<std::size_t>(segment.degree);
    const Vec2 by_a = a - segment.start(), by_b = b - segment.end();
    if (n == 3) {
        segment.points[1] = segment.points[1] + by_a;
        segment.points[2] = segment.points[2] + by_b;
    } else if (n == 2) {
        segment.points[1] = segment.points[1] + (by_a + by_b) * 0.5;
    }
    segment.points[0] = a;
    segment.points[n] = b;
    return segment;
}

std::optional<std::pair<double, double>> loop_of(const Segment& segment) {
    if (segment.degree != 3) return std::nullopt;
    const auto& p = segment.points;
    // B(t) = a t³ + b t² + c t + d; B(s) = B(t) with u = s + t, v = s t gives (u² - v) a + u b + c = 0.
    const Vec2 a = p[3] - p[0] + (p[1] - p[2]) * 3, b = (p[0] - p[1] * 2 + p[2]) * 3, c = (p[1] - p[0]) * 3;
    const double ab = cross(a, b);
    if (ab == 0) return std::nullopt;
    const double u = -cross(a, c) / ab, v = u * u + cross(c, b) / ab;
    const double discriminant = u * u - 4 * v;
    if (!(discriminant > 0)) return std::nullopt;
    const double s = (u - std::sqrt(discriminant)) / 2, t = (u + std::sqrt(discriminant)) / 2;
    if (s < 0 || t > 1 || t - s < 1e-9) return std::nullopt;
    return std::pair{s, t};
}

std::vector<Segment> unfolded(const Segment& segment) {
    if (segment.degree == 1) return {segment};
    const Vec2 origin = segment.start();
    Vec2 far = origin;
    for (int i = 1; i <= segment.degree; ++i) {
        const Vec2 p = segment.points[static_cast<std::size_t>(i)];
        if (distance(p, origin) > distance(far, origin)) far = p;
    }
    const double reach = distance(far, origin);
    if (reach == 0) return {};
    double previous = 0;
    bool monotone = true;
    for (int i = 1; i <= segment.degree; ++i) {
        const Vec2 p = segment.points[static_cast<std::size_t>(i)] - origin;
        if (std::abs(cross(p, far - origin)) > 1e-9 * reach * reach) return {segment};
        const double along = dot(p, far - origin);
        monotone = monotone && along >= previous;
        previous = along;
    }
    if (monotone) return {segment};
    const auto& p = segment.points;
    std::array<double, 2> at{};
    const bool wide = std::abs(far.x - origin.x) > std::abs(far.y - origin.y);
    const int count = wide ? turning_points(p[0].x, p[1].x, p[2].x, p[3].x, segment.degree, at)
                           : turning_points(p[0].y, p[1].y, p[2].y, p[3].y, segment.degree, at);
    if (count == 2 && at[1] < at[0]) std::swap(at[0], at[1]);
    std::vector<Segment> lines;
    Vec2 from = origin;
    for (int i = 0; i <= count; ++i) {
        const Vec2 to = i < count ? point_at(segment, at[static_cast<std::size_t>(i)]) : segment.end();
        if (!(from == to)) lines.push_back(Segment::line(from, to));
        from = to;
    }
    return lines;
}

int winding(const Contour& contour, Vec2 p) {
    int count = 0;
    for (const Segment& segment : contour.segments)
        count += crossings(segment, p, 40);
    return count;
}

Vec2 nearest_on(Vec2 a, Vec2 b, Vec2 p) {
    const Vec2 along = b - a;
    const double square = dot(along, along);
    if (square == 0) return a;
    const double t = std::clamp(dot(p - a, along) / square, 0.0, 1.0);
    return t == 1 ? b : a + along * t;
}

Approach approach(Vec2 a0, Vec2 a1, Vec2 b0, Vec2 b1) {
    const double s0 = cross(a1 - a0, b0 - a0), s1 = cross(a1 - a0, b1 - a0);
    const double t0 = cross(b1 - b0, a0 - b0), t1 = cross(b1 - b0, a1 - b0);
    if (((s0 > 0 && s1 < 0) || (s0 < 0 && s1 > 0)) && ((t0 > 0 && t1 < 0) || (t0 < 0 && t1 > 0))) {
        const Vec2 at = a0 + (a1 - a0) * (t0 / (t0 - t1));
        return {0, at, at, true};
    }
    Approach best{std::numeric_limits<double>::infinity(), {}, {}, false};
    auto take = [&](Vec2 p, Vec2 q) {
        const double d = distance(p, q);
        if (d < best.distance) best = {d, p, q, false};
    };
    take(a0, nearest_on(b0, b1, a0));
    take(a1, nearest_on(b0, b1, a1));
    take(nearest_on(a0, a1, b0), b0);
    take(nearest_on(a0, a1, b1), b1);
    return best;
}

} // namespace touchmark::geometry
