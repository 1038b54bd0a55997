// SPDX-License-Identifier: MIT
#include "core/geometry/contour.h"

#include "core/geometry/bezier.h"

#include <array>
#include <cmath>

namespace touchmark::geometry {

Affine Affine::rotation(double angle) {
    const double c = std::cos(angle), s = std::sin(angle);
    return {c, -s, s, c, {}};
}

Affine operator*(const Affine& a, const Affine& b) {
    return {a.xx * b.xx + a.xy * b.yx, a.xx * b.xy + a.xy * b.yy, a.yx * b.xx + a.yy * b.yx, a.yx * b.xy + a.yy * b.yy,
            a(b.shift)};
}

Vec2 point_at(const Segment& segment, double t) {
    if (t == 0) return segment.start();
    if (t == 1) return segment.end();
    const auto& p = segment.points;
    const double u = 1 - t;
    switch (segment.degree) {
    case 1:
        return p[0] * u + p[1] * t;
    case 2:
        return p[0] * (u * u) + p[1] * (2 * u * t) + p[2] * (t * t);
    default:
        return p[0] * (u * u * u) + p[1] * (3 * u * u * t) + p[2] * (3 * u * t * t) + p[3] * (t * t * t);
    }
}

Vec2 derivative_at(const Segment& segment, double t) {
    const auto& p = segment.points;
    const double u = 1 - t;
    switch (segment.degree) {
    case 1:
        return p[1] - p[0];
    case 2:
        return (p[1] - p[0]) * (2 * u) + (p[2] - p[1]) * (2 * t);
    default:
        return (p[1] - p[0]) * (3 * u * u) + (p[2] - p[1]) * (6 * u * t) + (p[3] - p[2]) * (3 * t * t);
    }
}

std::array<Segment, 2> split(const Segment& segment, double t) {
    const auto n = static_cast<std::size_t>(segment.degree);
    std::array<Segment, 2> parts{Segment{segment.degree, {}}, Segment{segment.degree, {}}};
    std::array<Vec2, 4> q = segment.points;
    parts[0].points[0] = q[0];
    parts[1].points[n] = q[n];
    for (std::size_t level = 1; level <= n; ++level) {
        for (std::size_t i = 0; i + level <= n; ++i)
            q[i] = q[i] * (1 - t) + q[i + 1] * t;
        parts[0].points[level] = q[0];
        parts[1].points[n - level] = q[n - level];
    }
    return parts;
}

Segment reversed(const Segment& segment) {
    Segment result{segment.degree, {}};
    const auto n = static_cast<std::size_t>(segment.degree);
    for (std::size_t i = 0; i <= n; ++i)
        result.points[i] = segment.points[n - i];
    return result;
}

Contour reversed(const Contour& contour) {
    Contour result;
    result.segments.reserve(contour.segments.size());
    for (auto at = contour.segments.rbegin(); at != contour.segments.rend(); ++at)
        result.segments.push_back(reversed(*at));
    return result;
}

Contour transformed(const Contour& contour, const Affine& map) {
    Contour result = contour;
    for (Segment& segment : result.segments)
        for (int i = 0; i <= segment.degree; ++i) {
            Vec2& p = segment.points[static_cast<std::size_t>(i)];
            p = map(p);
        }
    return result;
}

Contour contour_of(std::span<const Vec2> polygon) {
    Contour contour;
    contour.segments.reserve(polygon.size());
    for (std::size_t i = 0; i < polygon.size(); ++i) {
        const Vec2 a = polygon[i], b = polygon[(i + 1) % polygon.size()];
        if (!(a == b)) contour.segments.push_back(Segment::line(a, b));
    }
    return contour;
}

double area(const Contour& contour) {
    if (contour.segments.empty()) return 0;
    // Three Gauss points are exact to degree 5, and B × B' of a cubic has degree 5.
    static const double offset = std::sqrt(0.6) / 2;
    const Vec2 reference = contour.segments.front().start();
    double twice = 0;
    for (const Segment& segment : contour.segments) {
        const Vec2 a = segment.start();
        twice += cross(a - reference, segment.end() - reference);
        if (segment.degree == 1) continue;
        auto term = [&](double t) { return cross(point_at(segment, t) - a, derivative_at(segment, t)); };
        twice += (5 * term(0.5 - offset) + 8 * term(0.5) + 5 * term(0.5 + offset)) / 18;
    }
    return twice / 2;
}

Box2 bounds(const Contour& contour) {
    Box2 box;
    for (const Segment& segment : contour.segments)
        box.add(bounds(segment));
    return box;
}

Polygon flattened(const Contour& contour, double tolerance) {
    Polygon polygon;
    polygon.reserve(contour.segments.size() * 4);
    for (const Segment& segment : contour.segments) {
        const int pieces = pieces_within(segment, tolerance);
        polygon.push_back(segment.start());
        for (int i = 1; i < pieces; ++i)
            polygon.push_back(point_at(segment, static_cast<double>(i) / pieces));
    }
    return polygon;
}

double area(std::span<const Vec2> polygon) {
    double twice = 0;
    for (std::size_t i = 2; i < polygon.size(); ++i)
        twice += cross(polygon[i - 1] - polygon[0], polygon[i] - polygon[0]);
    return twice / 2;
}

int winding(std::span<const Vec2> polygon, Vec2 p) {
    int count = 0;
    for (std::size_t i = 0; i < polygon.size(); ++i) {
        const Vec2 a = polygon[i], b = polygon[i + 1 == polygon.size() ? 0 : i + 1];
        if ((a.y <= p.y) == (b.y <= p.y)) continue;
        const double side = cross(b - a, p - a);
        if (a.y <= p.y && side > 0) ++count;
        if (b.y <= p.y && side < 0) --count;
    }
    return count;
}

double distance_to_boundary(std::span<const Vec2> polygon, Vec2 p) {
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < polygon.size(); ++i) {
        const Vec2 away = nearest_on(polygon[i], polygon[i + 1 == polygon.size() ? 0 : i + 1], p) - p;
        least = std::min(least, dot(away, away));
    }
    return std::sqrt(least);
}

} // namespace touchmark::geometry
