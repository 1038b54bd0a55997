// SPDX-License-Identifier: MIT
#include "core/surface/segment_tree.h"

#include <algorithm>
#include <cmath>

namespace touchmark::surface {
namespace {

double square_distance(const Box2& box, Vec2 p) {
    const Vec2 away{std::max({box.low.x - p.x, 0.0, p.x - box.high.x}),
                    std::max({box.low.y - p.y, 0.0, p.y - box.high.y})};
    return dot(away, away);
}
// Not hypot: nothing here comes near overflow, and this is asked a million times a second.
double distance_to(const Box2& box, Vec2 p) {
    return std::sqrt(square_distance(box, p));
}

} // namespace

Vec2 nearest_on(Vec2 a, Vec2 b, Vec2 p) {
    const Vec2 d = b - a;
    const double size = dot(d, d);
    const double t = size > 0 ? std::clamp(dot(p - a, d) / size, 0.0, 1.0) : 0.0;
    return a + d * t;
}

std::optional<Vec2> meeting(Vec2 a, Vec2 b, Vec2 c, Vec2 d) {
    const Vec2 r = b - a, s = d - c;
    const double across = cross(r, s);
    if (across == 0) return std::nullopt; // parallel: their ends tell
    const double t = cross(c - a, s) / across, u = cross(c - a, r) / across;
    if (t < 0 || t > 1 || u < 0 || u > 1) return std::nullopt;
    return a + r * t;
}

SegmentTree::SegmentTree(std::span<const geometry::Polygon> polygons) {
    for (const geometry::Polygon& polygon : polygons)
        for (std::size_t i = 0; i < polygon.size(); ++i)
            edges_.push_back({polygon[i], polygon[(i + 1) % polygon.size()]});
    if (edges_.empty()) return;
    nodes_.reserve(edges_.size());
    build(0, static_cast<std::uint32_t>(edges_.size()));
}

void SegmentTree::build(std::uint32_t first, std::uint32_t last) {
    constexpr std::uint32_t leaf = 4;
    const std::size_t at = nodes_.size();
    Node& node = nodes_.emplace_back();
    node.first = first;
    node.last = last;
    for (std::uint32_t i = first; i < last; ++i)
        node.box.add(edges_[i].a), node.box.add(edges_[i].b);
    if (last - first <= leaf) return;
    const bool by_x = node.box.width() > node.box.height();
    const std::uint32_t middle = (first + last) / 2;
    std::nth_element(edges_.begin() + first, edges_.begin() + middle, edges_.begin() + last,
                     [&](const Edge& p, const Edge& q) {
                         return by_x ? p.a.x + p.b.x < q.a.x + q.b.x : p.a.y + p.b.y < q.a.y + q.b.y;
                     });
    build(first, middle);
    nodes_[at].right = static_cast<std::uint32_t>(nodes_.size());
    build(middle, last);
}

void SegmentTree::search(std::uint32_t at, Vec2 p, std::optional<Nearest>& best, double& bound) const {
    const Node& node = nodes_[at];
    if (!node.right) {
        for (std::uint32_t i = node.first; i < node.last; ++i) {
            const Vec2 on = nearest_on(edges_[i].a, edges_[i].b, p);
            const double away = std::sqrt(dot(on - p, on - p));
            if (away < bound) bound = away, best = Nearest{away, on};
        }
        return;
    }
    std::uint32_t near = at + 1, far = node.right;
    double to_near = distance_to(nodes_[near].box, p), to_far = distance_to(nodes_[far].box, p);
    if (to_far < to_near) std::swap(near, far), std::swap(to_near, to_far);
    if (to_near < bound) search(near, p, best, bound);
    if (to_far < bound) search(far, p, best, bound);
}

std::optional<SegmentTree::Nearest> SegmentTree::nearest(Vec2 p, double bound) const {
    std::optional<Nearest> best;
    if (!nodes_.empty()) search(0, p, best, bound);
    return best;
}

bool SegmentTree::find_nearer(std::uint32_t at, Vec2 p, double square) const {
    const Node& node = nodes_[at];
    if (square_distance(node.box, p) >= square) return false;
    if (node.right) return find_nearer(at + 1, p, square) || find_nearer(node.right, p, square);
    for (std::uint32_t i = node.first; i < node.last; ++i) {
        const Vec2 away = nearest_on(edges_[i].a, edges_[i].b, p) - p;
        if (dot(away, away) < square) return true;
    }
    return false;
}

bool SegmentTree::any_nearer(Vec2 p, double bound) const {
    return bound > 0 && !nodes_.empty() && find_nearer(0, p, bound * bound);
}

bool SegmentTree::inside(Vec2 p) const {
    if (nodes_.empty() || !nodes_[0].box.meets({p, p})) return false;
    bool in = false;
    const Box2 ray{p, {nodes_[0].box.high.x + 1, p.y}};
    visit(ray, [&](const Edge& edge) {
        if ((edge.a.y <= p.y) != (edge.b.y <= p.y) &&
            edge.a.x + (edge.b.x - edge.a.x) * (p.y - edge.a.y) / (edge.b.y - edge.a.y) > p.x)
            in = !in;
        return true;
    });
    return in;
}

} // namespace touchmark::surface
