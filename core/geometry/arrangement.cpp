// SPDX-License-Identifier: MIT
#include "core/geometry/arrangement.h"

#include "core/geometry/bezier.h"
#include "core/geometry/box_tree.h"

#include <algorithm>
#include <cmath>

namespace touchmark::geometry {
namespace {

constexpr int most_rounds = 24;
constexpr std::size_t most_edges = 2'000'000, most_pairs = 60'000'000;

std::uint64_t cell_key(std::int64_t x, std::int64_t y) {
    return static_cast<std::uint64_t>(x) * 0x9e3779b97f4a7c15ull ^
           static_cast<std::uint64_t>(y) * 0xc2b2ae3d27d4eb4full;
}

} // namespace

std::optional<Arrangement> Arrangement::of(std::span<const Contour> contours, double resolution, double tolerance) {
    Arrangement arrangement(resolution);
    arrangement.load(contours, tolerance);
    for (int round = 0; round < most_rounds; ++round) {
        auto cuts = arrangement.missing_cuts();
        if (!cuts || arrangement.edges_.size() > most_edges) return std::nullopt;
        if (cuts->empty()) return arrangement;
        arrangement.apply(*cuts);
        arrangement.merge_equal_edges();
    }
    return std::nullopt;
}

std::uint32_t Arrangement::vertex_at(Vec2 p) {
    const auto cx = static_cast<std::int64_t>(std::floor(p.x / resolution_));
    const auto cy = static_cast<std::int64_t>(std::floor(p.y / resolution_));
    std::optional<std::uint32_t> nearest;
    for (std::int64_t x = cx - 1; x <= cx + 1; ++x)
        for (std::int64_t y = cy - 1; y <= cy + 1; ++y) {
            const auto [first, last] = cells_.equal_range(cell_key(x, y));
            for (auto at = first; at != last; ++at) {
                const double d = distance(vertices_[at->second], p);
                if (d < resolution_ && (!nearest || d < distance(vertices_[*nearest], p))) nearest = at->second;
            }
        }
    if (nearest) return *nearest;
    const auto index = static_cast<std::uint32_t>(vertices_.size());
    vertices_.push_back(p);
    cells_.emplace(cell_key(cx, cy), index);
    return index;
}

void Arrangement::load(std::span<const Contour> contours, double tolerance) {
    // Corners first: they keep their exact places, later vertices are drawn to them.
    for (const Contour& contour : contours)
        for (const Segment& segment : contour.segments)
            vertex_at(segment.start());
    corner_count_ = static_cast<std::uint32_t>(vertices_.size());
    for (std::uint32_t c = 0; c < contours.size(); ++c)
        for (std::uint32_t s = 0; s < contours[c].segments.size(); ++s) {
            const Segment& segment = contours[c].segments[s];
            const int pieces = pieces_within(segment, tolerance);
            std::uint32_t before = vertex_at(segment.start());
            double start = 0;
            for (int i = 1; i <= pieces; ++i) {
                const double t = static_cast<double>(i) / pieces;
                const std::uint32_t next = vertex_at(point_at(segment, t));
                if (next == before) continue; // the next edge takes this stretch of the curve over
                edges_.push_back({before, next, c, s, start, t, 1});
                before = next;
                start = t;
            }
        }
    merge_equal_edges();
    fresh_.assign(edges_.size(), true);
}

std::optional<std::vector<Arrangement::Cut>> Arrangement::missing_cuts() {
    std::vector<Box2> boxes;
    boxes.reserve(edges_.size());
    const Vec2 margin{resolution_ / 2, resolution_ / 2};
    for (const Edge& edge : edges_) {
        Box2 box;
        box.add(from(edge));
        box.add(to(edge));
        boxes.push_back({box.low - margin, box.high + margin});
    }
    std::vector<Cut> cuts;
    std::size_t pairs = 0;
    const bool finished = BoxTree(boxes).pairs([&](std::uint32_t e, std::uint32_t f) {
        if (fresh_[e] || fresh_[f]) examine(e, f, cuts);
        return ++pairs <= most_pairs && cuts.size() <= most_edges;
    });
    fresh_.assign(edges_.size(), false);
    if (!finished) return std::nullopt;
    return cuts;
}

void Arrangement::examine(std::uint32_t e, std::uint32_t f, std::vector<Cut>& cuts) {
    const std::size_t before = cuts.size();
    auto near = [&](std::uint32_t index, std::uint32_t vertex) {
        const Edge& edge = edges_[index];
        if (vertex == edge.from || vertex == edge.to) return;
        const Vec2 p = vertices_[vertex];
        if (distance(nearest_on(from(edge), to(edge), p), p) < resolution_) cuts.push_back({index, vertex});
    };
    near(e, edges_[f].from);
    near(e, edges_[f].to);
    near(f, edges_[e].from);
    near(f, edges_[e].to);
    if (cuts.size() > before) return;
    const Approach meeting = approach(from(edges_[e]), to(edges_[e]), from(edges_[f]), to(edges_[f]));
    if (!meeting.crosses) return;
    const std::uint32_t vertex = vertex_at(meeting.on_a);
    for (const std::uint32_t index : {e, f})
        if (vertex != edges_[index].from && vertex != edges_[index].to) cuts.push_back({index, vertex});
}

void Arrangement::apply(std::vector<Cut>& cuts) {
    std::sort(cuts.begin(), cuts.end(),
              [](const Cut& a, const Cut& b) { return std::pair(a.edge, a.vertex) < std::pair(b.edge, b.vertex); });
    cuts.erase(std::unique(cuts.begin(), cuts.end(),
                           [](const Cut& a, const Cut& b) { return a.edge == b.edge && a.vertex == b.vertex; }),
               cuts.end());
    std::vector<Edge> added;
    for (std::size_t first = 0; first < cuts.size();) {
        std::size_t last = first;
        while (last < cuts.size() && cuts[last].edge == cuts[first].edge)
            ++last;
        const std::uint32_t index = cuts[first].edge;
        const Edge whole = edges_[index];
        const Vec2 along = to(whole) - from(whole);
        std::vector<std::pair<double, std::uint32_t>> stops;
        for (; first < last; ++first) {
            const double at = dot(vertices_[cuts[first].vertex] - from(whole), along) / dot(along, along);
            stops.emplace_back(std::clamp(at, 0.0, 1.0), cuts[first].vertex);
        }
        std::sort(stops.begin(), stops.end());
        stops.emplace_back(1.0, whole.to);
        Edge rest = whole;
        for (const auto& [at, vertex] : stops) {
            Edge part = rest;
            part.to = vertex;
            part.end = at == 1 ? whole.end : whole.start + at * (whole.end - whole.start);
            rest.from = part.to;
            rest.start = part.end;
            added.push_back(part);
        }
        edges_[index].count = 0; // replaced
    }
    fresh_.resize(edges_.size());
    edges_.insert(edges_.end(), added.begin(), added.end());
    fresh_.resize(edges_.size(), true);
}

void Arrangement::merge_equal_edges() {
    auto ends = [](const Edge& edge) { return std::minmax(edge.from, edge.to); };
    std::vector<std::uint32_t> order;
    for (std::uint32_t i = 0; i < edges_.size(); ++i)
        if (edges_[i].count != 0 && edges_[i].from != edges_[i].to) order.push_back(i);
    std::sort(order.begin(), order.end(), [&](std::uint32_t a, std::uint32_t b) {
        const Edge &e = edges_[a], &f = edges_[b];
        const auto p = ends(e), q = ends(f);
        return std::tuple(p.first, p.second, e.contour, e.segment, e.start) <
               std::tuple(q.first, q.second, f.contour, f.segment, f.start);
    });
    std::vector<Edge> merged;
    std::vector<bool> fresh;
    fresh_.resize(edges_.size(), true);
    for (std::size_t i = 0; i < order.size();) {
        Edge edge = edges_[order[i]];
        bool is_fresh = fresh_[order[i]];
        std::size_t next = i + 1;
        for (; next < order.size() && ends(edges_[order[next]]) == ends(edge); ++next) {
            const Edge& other = edges_[order[next]];
            edge.count += other.from == edge.from ? other.count : -other.count;
            is_fresh = is_fresh || fresh_[order[next]];
        }
        // Passed as often either way it bounds nothing, but others must still be cut where it was: it has done that
        // already.
        if (edge.count != 0) {
            merged.push_back(edge);
            fresh.push_back(is_fresh);
        }
        i = next;
    }
    edges_ = std::move(merged);
    fresh_ = std::move(fresh);
}

std::vector<int> Arrangement::windings_left(int background) const {
    std::vector<Box2> boxes;
    std::vector<std::vector<std::uint32_t>> at(vertices_.size());
    for (std::uint32_t i = 0; i < edges_.size(); ++i) {
        Box2 box;
        box.add(from(edges_[i]));
        box.add(to(edges_[i]));
        boxes.push_back(box);
        at[edges_[i].from].push_back(i);
        at[edges_[i].to].push_back(i);
    }
    const BoxTree tree(boxes);
    auto by_ray = [&](std::uint32_t index) {
        const Edge& edge = edges_[index];
        const Vec2 way = to(edge) - from(edge), middle = (from(edge) + to(edge)) * 0.5;
        const bool level = std::abs(way.y) >= std::abs(way.x); // the ray runs to -x, else to -y
        auto turned = [&](Vec2 p) { return level ? p : Vec2{p.y, -p.x}; };
        const Vec2 m = turned(middle);
        constexpr double far = 1e300;
        const Box2 ray = level ? Box2{{-far, middle.y}, middle} : Box2{{middle.x, -far}, middle};
        int sum = background;
        tree.query(ray, [&](std::uint32_t other) {
            if (other == index) return;
            const Vec2 a = turned(from(edges_[other])), b = turned(to(edges_[other]));
            if ((a.y <= m.y) == (b.y <= m.y)) return;
            const double side = cross(b - a, m - a);
            const bool down = a.y > b.y;
            if (down ? side > 0 : side < 0) sum += down ? edges_[other].count : -edges_[other].count;
        });
        // `sum` holds on the side from which the ray comes; that is the left of an edge that goes up.
        return turned(way).y > 0 ? sum : sum + edge.count;
    };
    constexpr int unknown = std::numeric_limits<int>::min();
    std::vector<int> left(edges_.size(), unknown);
    std::vector<std::uint32_t> todo;
    for (std::uint32_t seed = 0; seed < edges_.size(); ++seed) {
        if (left[seed] != unknown) continue;
        left[seed] = by_ray(seed);
        todo.assign(1, seed);
        while (!todo.empty()) { // along the chain, which nothing joins
            const std::uint32_t i = todo.back();
            todo.pop_back();
            for (const std::uint32_t vertex : {edges_[i].from, edges_[i].to}) {
                if (at[vertex].size() != 2) continue;
                const std::uint32_t next = at[vertex][0] == i ? at[vertex][1] : at[vertex][0];
                if (left[next] != unknown) continue;
                const bool same_way = (edges_[i].to == vertex) == (edges_[next].from == vertex);
                left[next] = same_way ? left[i] : left[i] - edges_[i].count;
                todo.push_back(next);
            }
        }
    }
    return left;
}

} // namespace touchmark::geometry
