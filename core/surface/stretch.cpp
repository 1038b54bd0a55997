// SPDX-License-Identifier: MIT
#include "core/surface/stretch.h"

#include "core/surface/chart.h"

#include <algorithm>
#include <cmath>

namespace touchmark::surface {
namespace {

/// The principal ratios: square roots of the eigenvalues of the first fundamental form in the mark's mm.
std::pair<double, double> ratios_at(const Chart& chart, Vec2 at) {
    constexpr double step = 1e-3; // mm
    const auto there = evaluator_of(chart.face()).first(chart.parameters(at));
    const auto along = [&](Vec2 way) {
        const Vec2 d = (chart.parameters(at + way * step) - chart.parameters(at - way * step)) * (0.5 / step);
        return there.du * d.x + there.dv * d.y;
    };
    const Vec3 x = along({1, 0}), y = along({0, 1});
    const double e = dot(x, x), f = dot(x, y), g = dot(y, y);
    const double middle = (e + g) / 2, half = std::hypot((e - g) / 2, f);
    return {std::sqrt(std::max(0.0, middle - half)), std::sqrt(middle + half)};
}

} // namespace

Stretch stretch_under(const FaceMap& map, const geometry::Outline& placed) {
    Stretch out;
    if (!map.chart()) return out;
    // It is greatest at the outline's edge, for it grows with the distance from the anchor.
    constexpr std::size_t most_points = 600;
    std::vector<Vec2> points;
    for (const geometry::Polygon& polygon : geometry::flattened(placed, 0.05))
        points.insert(points.end(), polygon.begin(), polygon.end());
    const std::size_t every = 1 + points.size() / most_points;
    for (std::size_t i = 0; i < points.size(); i += every) {
        if (!map.chart()->holds(points[i])) continue;
        const auto [least, most] = ratios_at(*map.chart(), points[i]);
        const double before = out.departure();
        out.least = std::min(out.least, least);
        out.most = std::max(out.most, most);
        if (out.departure() > before) out.at = points[i];
    }
    return out;
}

} // namespace touchmark::surface
