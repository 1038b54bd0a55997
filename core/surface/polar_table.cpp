// SPDX-License-Identifier: MIT
#include "core/surface/polar_table.h"

#include <array>
#include <cmath>
#include <numbers>

namespace touchmark::surface {
namespace {

constexpr double turn = 2 * std::numbers::pi;
constexpr std::size_t count = PolarTable::rays;

/// Rows of the matrix that takes values on equally spaced rays to the second derivatives of their periodic cubic
/// spline (de Boor, A Practical Guide to Splines, ch. IV: M_{i−1} + 4 M_i + M_{i+1} = 6 Δ²y_i). It is circulant: one
/// row says all.
std::array<double, count> bending_row() {
    // The inverse of (1 4 1) decays by √3 − 2 a step.
    const double q = std::sqrt(3.0) - 2, whole = 1 / ((1 - std::pow(q, count)) * 2 * std::sqrt(3.0));
    std::array<double, count> inverse{}, row{};
    for (std::size_t i = 0; i < count; ++i)
        inverse[i] = (std::pow(q, i) + std::pow(q, count - i)) * whole;
    for (std::size_t i = 0; i < count; ++i)
        row[i] = 6 * (inverse[(i + 1) % count] - 2 * inverse[i] + inverse[(i + count - 1) % count]);
    return row;
}

} // namespace

PolarTable::PolarTable(const Origin& origin, double reach)
    : origin_(origin), reach_(reach), knots_(static_cast<std::size_t>(rays * (rings + 1))) {
    for (int ring = 0; ring <= rings; ++ring)
        radii_.push_back(reach_ * std::pow(static_cast<double>(ring) / rings, 1.5));
}

double PolarTable::angle(int ray) {
    return turn * ray / rays;
}

Laid PolarTable::low_order(Vec2 p) const {
    return origin_.x * p.x + origin_.y * p.y + origin_.xx * (p.x * p.x / 2) + origin_.xy * (p.x * p.y) +
           origin_.yy * (p.y * p.y / 2);
}

void PolarTable::set(int ray, int ring, const Laid& value, const Laid& slope) {
    const double r = radius(ring), c = std::cos(angle(ray)), s = std::sin(angle(ray));
    const Laid linear = origin_.x * c + origin_.y * s;
    const Laid square = origin_.xx * (c * c) + origin_.xy * (2 * c * s) + origin_.yy * (s * s);
    Knot& own = knot(ray, ring);
    own.value = value - linear * r - square * (r * r / 2);
    own.slope = slope - linear - square * r;
}

void PolarTable::finish() {
    static const std::array<double, count> row = bending_row();
    for (int ring = 1; ring <= rings; ++ring)
        for (int ray = 0; ray < rays; ++ray) {
            Knot& own = knot(ray, ring);
            own.value_bend = own.slope_bend = {};
            for (int other = 0; other < rays; ++other) {
                const double weight = row[static_cast<std::size_t>((other - ray + rays) % rays)];
                own.value_bend = own.value_bend + knot(other, ring).value * weight;
                own.slope_bend = own.slope_bend + knot(other, ring).slope * weight;
            }
        }
}

Laid PolarTable::value(Vec2 p) const {
    const double r = length(p);
    if (r == 0) return {};
    double turned = std::atan2(p.y, p.x) / turn * rays;
    if (turned < 0) turned += rays;
    const int ray = static_cast<int>(turned) % rays, next = (ray + 1) % rays;
    const double b = turned - std::floor(turned), a = 1 - b;
    const double bend_a = (a * a * a - a) / 6, bend_b = (b * b * b - b) / 6;
    struct Ring {
        Laid value, slope;
    };
    const auto on_ring = [&](int ring) -> Ring {
        const Knot &k = knot(ray, ring), &l = knot(next, ring);
        return {k.value * a + l.value * b + k.value_bend * bend_a + l.value_bend * bend_b,
                k.slope * a + l.slope * b + k.slope_bend * bend_a + l.slope_bend * bend_b};
    };
    if (r >= reach_) {
        const Ring last = on_ring(rings);
        return low_order(p) + last.value + last.slope * (r - reach_);
    }
    const double root = std::cbrt(r / reach_);
    int ring = std::min(rings - 1, static_cast<int>(root * root * rings));
    // Rounding may put it one off.
    if (ring > 0 && r < radius(ring)) --ring;
    const double low = radius(ring), high = radius(ring + 1), h = high - low, t = (r - low) / h;
    const Ring from = on_ring(ring), to = on_ring(ring + 1);
    const double t2 = t * t, t3 = t2 * t;
    return low_order(p) + from.value * (2 * t3 - 3 * t2 + 1) + from.slope * (h * (t3 - 2 * t2 + t)) +
           to.value * (3 * t2 - 2 * t3) + to.slope * (h * (t3 - t2));
}

} // namespace touchmark::surface
