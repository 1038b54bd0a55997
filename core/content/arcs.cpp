// SPDX-License-Identifier: MIT
#include "core/content/arcs.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace touchmark::content {

using geometry::Affine;
using geometry::Segment;

std::vector<Segment> arc(double from, double sweep, const Affine& map) {
    const int pieces = std::max(1, static_cast<int>(std::ceil(std::abs(sweep) / (std::numbers::pi / 4) - 1e-9)));
    const double step = sweep / pieces, handle = 4.0 / 3.0 * std::tan(step / 4);
    std::vector<Segment> segments;
    for (int i = 0; i < pieces; ++i) {
        const double a = from + step * i, b = from + step * (i + 1);
        const Vec2 p{std::cos(a), std::sin(a)}, q{std::cos(b), std::sin(b)};
        segments.push_back(
            Segment::cubic(map(p), map(p + Vec2{-p.y, p.x} * handle), map(q - Vec2{-q.y, q.x} * handle), map(q)));
    }
    return segments;
}

std::vector<Segment> arc(const EndpointArc& ends) {
    double rx = std::abs(ends.radius_x), ry = std::abs(ends.radius_y);
    if (ends.from == ends.to) return {};
    if (rx == 0 || ry == 0) return {Segment::line(ends.from, ends.to)};
    const Affine turned = Affine::rotation(ends.turn), back = Affine::rotation(-ends.turn);
    const Vec2 half = back((ends.from - ends.to) * 0.5);
    const double reach = std::hypot(half.x / rx, half.y / ry);
    if (reach > 1) rx *= reach, ry *= reach;
    const Vec2 on_circle{half.x / rx, half.y / ry};
    const double squared = dot(on_circle, on_circle);
    const double away = std::sqrt(std::max(0.0, 1 / squared - 1)) * (ends.large == ends.positive_sweep ? -1 : 1);
    const Vec2 centre{on_circle.y * away, -on_circle.x * away};
    const Vec2 start = on_circle - centre, end = on_circle * -1.0 - centre;
    double sweep = std::atan2(cross(start, end), dot(start, end));
    if (ends.positive_sweep && sweep < 0) sweep += 2 * std::numbers::pi;
    if (!ends.positive_sweep && sweep > 0) sweep -= 2 * std::numbers::pi;
    const Affine place = Affine::translation((ends.from + ends.to) * 0.5) * turned * Affine{rx, 0, 0, ry, {}} *
                         Affine::translation(centre);
    std::vector<Segment> segments = arc(std::atan2(start.y, start.x), sweep, place);
    segments.front().points[0] = ends.from;
    segments.back().points[3] = ends.to;
    return segments;
}

} // namespace touchmark::content
