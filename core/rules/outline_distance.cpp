// SPDX-License-Identifier: MIT
#include "core/rules/outline_distance.h"

#include <algorithm>

namespace touchmark::rules {
namespace {

constexpr double tolerance = 2e-3;

struct Edge {
    Vec2 a, b;
    Box2 box;
};

/// The edges that come near `reach`, sorted by their left end.
std::vector<Edge> edges_of(const geometry::Outline& outline, const Box2& reach) {
    std::vector<Edge> edges;
    for (const geometry::Region& region : outline.regions) {
        if (!geometry::bounds(region.outer).meets(reach)) continue;
        for (const geometry::Polygon& polygon : geometry::flattened(geometry::Outline{{region}}, tolerance))
            for (std::size_t i = 0; i < polygon.size(); ++i) {
                Edge edge{polygon[i], polygon[(i + 1) % polygon.size()], {}};
                edge.box.add(edge.a), edge.box.add(edge.b);
                if (edge.box.meets(reach)) edges.push_back(edge);
            }
    }
    std::ranges::sort(edges, {}, [](const Edge& edge) { return edge.box.low.x; });
    return edges;
}

Vec2 nearest_on(const Edge& edge, Vec2 p) {
    const Vec2 along = edge.b - edge.a;
    const double square = dot(along, along);
    const double t = square > 0 ? std::clamp(dot(p - edge.a, along) / square, 0.0, 1.0) : 0;
    return edge.a + along * t;
}

bool cross_each_other(const Edge& a, const Edge& b) {
    const auto side = [](const Edge& edge, Vec2 p) { return cross(edge.b - edge.a, p - edge.a); };
    return side(a, b.a) * side(a, b.b) < 0 && side(b, a.a) * side(b, a.b) < 0;
}

Nearness between(const Edge& a, const Edge& b) {
    if (cross_each_other(a, b)) {
        const Vec2 along = a.b - a.a, other = b.b - b.a;
        const Vec2 at = a.a + along * (cross(b.a - a.a, other) / cross(along, other));
        return {0, at, at};
    }
    Nearness best{distance(a.a, nearest_on(b, a.a)), a.a, nearest_on(b, a.a)};
    const auto better = [&](Vec2 on_a, Vec2 on_b) {
        if (const double d = distance(on_a, on_b); d < best.distance) best = {d, on_a, on_b};
    };
    better(a.b, nearest_on(b, a.b));
    better(nearest_on(a, b.a), b.a);
    better(nearest_on(a, b.b), b.b);
    return best;
}

/// A point of `inner` inside `outer` when one lies in the other as a whole, where no edges are near.
std::optional<Vec2> enclosed(const geometry::Outline& inner, const geometry::Outline& outer) {
    for (const geometry::Region& region : inner.regions)
        if (const Vec2 start = region.outer.segments.front().start(); geometry::contains(outer, start)) return start;
    return std::nullopt;
}

} // namespace

std::optional<Nearness> nearness(const geometry::Outline& a, const geometry::Outline& b, double within) {
    if (a.empty() || b.empty()) return std::nullopt;
    const Box2 box_a = geometry::bounds(a).widened(within), box_b = geometry::bounds(b);
    if (!box_a.meets(box_b)) return std::nullopt;
    const std::vector<Edge> edges_a = edges_of(a, box_b.widened(within)), edges_b = edges_of(b, box_a);
    double reach = within, widest = 0;
    for (const Edge& edge : edges_b)
        widest = std::max(widest, edge.box.width());
    std::optional<Nearness> best;
    for (const Edge& edge : edges_a) {
        auto other = std::ranges::lower_bound(edges_b, edge.box.low.x - reach - widest, {},
                                              [](const Edge& e) { return e.box.low.x; });
        for (; other != edges_b.end() && other->box.low.x <= edge.box.high.x + reach; ++other) {
            if (!edge.box.widened(reach).meets(other->box)) continue;
            const Nearness found = between(edge, *other);
            if (found.distance <= reach && (!best || found.distance < best->distance))
                best = found, reach = found.distance;
        }
    }
    if (best && best->distance == 0) return best;
    if (const auto at = enclosed(a, b)) return Nearness{0, *at, *at};
    if (const auto at = enclosed(b, a)) return Nearness{0, *at, *at};
    return best;
}

} // namespace touchmark::rules
