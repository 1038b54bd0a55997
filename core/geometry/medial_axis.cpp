// SPDX-License-Identifier: MIT
#include "core/geometry/medial_axis.h"

#include "core/geometry/bezier.h"
#include "core/geometry/box_tree.h"

#include "core/geometry/voronoi_traits.h"

#include <algorithm>
#include <cmath>
#include <optional>

namespace touchmark::geometry {
namespace {

namespace bp = boost::polygon;
using Diagram = bp::voronoi_diagram<double>;

struct Point {
    std::int32_t x = 0, y = 0;
    friend bool operator==(Point, Point) = default;
};

/// A boundary segment on the integer lattice, material on its left.
struct Side {
    Point start, end;
    std::uint32_t before = 0, after = 0; ///< its neighbours on the contour
};

/// 64 bits hold the product: coordinates stay below 2^28.
std::int64_t turn(Point a, Point b, Point c) {
    return (std::int64_t{b.x} - a.x) * (std::int64_t{c.y} - a.y) -
           (std::int64_t{b.y} - a.y) * (std::int64_t{c.x} - a.x);
}

Vec2 plain(Point p) {
    return {static_cast<double>(p.x), static_cast<double>(p.y)};
}

int sign(std::int64_t value) {
    return (value > 0) - (value < 0);
}

bool meet(const Side& e, const Side& f) {
    const int a = sign(turn(e.start, e.end, f.start)), b = sign(turn(e.start, e.end, f.end));
    const int c = sign(turn(f.start, f.end, e.start)), d = sign(turn(f.start, f.end, e.end));
    if (a != b && c != d) return true;
    auto on = [](const Side& side, Point p, int position) {
        return position == 0 && p.x >= std::min(side.start.x, side.end.x) &&
               p.x <= std::max(side.start.x, side.end.x) && p.y >= std::min(side.start.y, side.end.y) &&
               p.y <= std::max(side.start.y, side.end.y);
    };
    return on(e, f.start, a) || on(e, f.end, b) || on(f, e.start, c) || on(f, e.end, d);
}

class Builder {
public:
    explicit Builder(const std::vector<Polygon>& polygons) {
        Box2 box;
        for (const Polygon& polygon : polygons)
            for (const Vec2 p : polygon)
                box.add(p);
        if (box.empty()) return;
        centre_ = box.centre();
        const double half = std::max({box.width(), box.height(), 1e-6}) / 2;
        scale_ = std::exp2(std::min(20.0, std::floor(std::log2(0x1p27 / half))));
        for (const Polygon& polygon : polygons)
            load(polygon);
        if (!simple()) sides_.clear();
    }

    template <class Voronoi> MedialAxis build() {
        if (sides_.empty()) return {};
        Voronoi builder;
        for (const Side& side : sides_)
            builder.insert_segment(side.start.x, side.start.y, side.end.x, side.end.y);
        Diagram diagram;
        builder.construct(&diagram);
        for (const auto& vertex : diagram.vertices())
            vertex.color(0);
        axis_.nodes.reserve(diagram.num_vertices() * 2);
        axis_.arcs.reserve(diagram.num_edges() / 2);
        for (const auto& edge : diagram.edges())
            if (edge.is_primary() && edge.is_finite() && &edge < edge.twin()) add(edge);
        for (MedialAxis::Node& node : axis_.nodes) {
            node.at = to_plane(node.at);
            node.radius /= scale_;
        }
        for (MedialAxis::Arc& arc : axis_.arcs)
            for (Vec2* p : {&arc.from_a, &arc.from_b, &arc.to_a, &arc.to_b})
                *p = to_plane(*p);
        return std::move(axis_);
    }

private:
    Vec2 to_plane(Vec2 p) const { return p * (1 / scale_) + centre_; }

    void load(const Polygon& polygon) {
        std::vector<Point> points;
        for (const Vec2 p : polygon) {
            const Point q{static_cast<std::int32_t>(std::lround((p.x - centre_.x) * scale_)),
                          static_cast<std::int32_t>(std::lround((p.y - centre_.y) * scale_))};
            if (points.empty() || !(points.back() == q)) points.push_back(q);
        }
        while (points.size() > 1 && points.front() == points.back())
            points.pop_back();
        if (points.size() < 3) return;
        const auto first = static_cast<std::uint32_t>(sides_.size()), count = static_cast<std::uint32_t>(points.size());
        for (std::uint32_t i = 0; i < count; ++i)
            sides_.push_back(
                {points[i], points[(i + 1) % count], first + (i + count - 1) % count, first + (i + 1) % count});
    }

    bool simple() const {
        std::vector<Box2> boxes;
        boxes.reserve(sides_.size());
        for (const Side& side : sides_) {
            boxes.emplace_back();
            boxes.back().add(plain(side.start));
            boxes.back().add(plain(side.end));
        }
        return BoxTree(boxes).pairs([&](std::uint32_t i, std::uint32_t j) {
            const Side &e = sides_[i], &f = sides_[j];
            if (e.after != j && f.after != i) return !meet(e, f);
            // Neighbours share a corner; they must not fold back.
            const Side &first = e.after == j ? e : f, &second = e.after == j ? f : e;
            return turn(first.start, first.end, second.end) != 0 ||
                   dot(plain(first.end) - plain(first.start), plain(second.end) - plain(second.start)) > 0;
        });
    }

    static bool is_point(const Diagram::cell_type& cell) { return cell.contains_point(); }
    const Side& side_of(const Diagram::cell_type& cell) const { return sides_[cell.source_index()]; }
    Point point_of(const Diagram::cell_type& cell) const {
        const Side& side = side_of(cell);
        return cell.source_category() == bp::SOURCE_CATEGORY_SEGMENT_START_POINT ? side.start : side.end;
    }
    Vec2 nearest(const Diagram::cell_type& cell, Vec2 p) const {
        if (is_point(cell)) return plain(point_of(cell));
        return nearest_on(plain(side_of(cell).start), plain(side_of(cell).end), p);
    }

    /// Whether the cell's part around p lies in the material: left of a segment, or the far side of a hollow corner.
    bool inside(const Diagram::cell_type& cell, Vec2 p) const {
        const Side& side = side_of(cell);
        if (!is_point(cell)) return cross(plain(side.end) - plain(side.start), p - plain(side.start)) > 0;
        const bool at_start = cell.source_category() == bp::SOURCE_CATEGORY_SEGMENT_START_POINT;
        const Side &before = at_start ? sides_[side.before] : side, &after = at_start ? side : sides_[side.after];
        return turn(before.start, before.end, after.end) < 0;
    }

    /// The narrowest place within an edge of the diagram, if it is not at an end.
    std::optional<Vec2> apex(const Diagram::cell_type& a, const Diagram::cell_type& b, Vec2 from, Vec2 to) const {
        if (!is_point(a) && !is_point(b)) return std::nullopt;
        if (is_point(a) && is_point(b)) {
            const Vec2 p = plain(point_of(a)), q = plain(point_of(b)), middle = (p + q) * 0.5;
            const Vec2 along{p.y - q.y, q.x - p.x};
            return dot(from - middle, along) * dot(to - middle, along) < 0 ? std::optional(middle) : std::nullopt;
        }
        const Vec2 focus = plain(point_of(is_point(a) ? a : b));
        const Side& line = side_of(is_point(a) ? b : a);
        const Vec2 start = plain(line.start), along = plain(line.end) - start;
        const double at = dot(focus - start, along);
        if ((dot(from - start, along) - at) * (dot(to - start, along) - at) >= 0) return std::nullopt;
        return (focus + start + along * (at / dot(along, along))) * 0.5;
    }

    std::uint32_t node_of(const Diagram::vertex_type& vertex, double radius) {
        // The boundary itself joins nothing: a node of its own for each arc that ends there.
        if (vertex.color() != 0 && radius > 1) return static_cast<std::uint32_t>(vertex.color() - 1);
        axis_.nodes.push_back({{vertex.x(), vertex.y()}, radius});
        vertex.color(axis_.nodes.size());
        return static_cast<std::uint32_t>(axis_.nodes.size() - 1);
    }

    void add(const Diagram::edge_type& edge) {
        const Diagram::cell_type &a = *edge.cell(), &b = *edge.twin()->cell();
        const Vec2 from{edge.vertex0()->x(), edge.vertex0()->y()}, to{edge.vertex1()->x(), edge.vertex1()->y()};
        auto reach = [&](Vec2 p) {
            const Vec2 way = nearest(a, p) - p;
            return std::sqrt(dot(way, way));
        };
        const double from_radius = reach(from), to_radius = reach(to);
        if (std::max(from_radius, to_radius) <= 1) return;
        const bool in = inside(is_point(a) ? b : a, from_radius > to_radius ? from : to);
        const std::uint32_t first = node_of(*edge.vertex0(), from_radius), last = node_of(*edge.vertex1(), to_radius);
        if (const auto middle = apex(a, b, from, to)) {
            axis_.nodes.push_back({*middle, distance(nearest(a, *middle), *middle)});
            const auto between = static_cast<std::uint32_t>(axis_.nodes.size() - 1);
            push(a, b, first, between, in);
            push(a, b, between, last, in);
        } else {
            push(a, b, first, last, in);
        }
    }

    void push(const Diagram::cell_type& a, const Diagram::cell_type& b, std::uint32_t from, std::uint32_t to, bool in) {
        MedialAxis::Arc arc{.from = from, .to = to, .from_a = {}, .from_b = {}, .to_a = {}, .to_b = {}, .inside = in};
        auto look = [&](std::uint32_t node, Vec2& on_a, Vec2& on_b) {
            const Vec2 p = axis_.nodes[node].at;
            on_a = nearest(a, p);
            on_b = nearest(b, p);
            const Vec2 u = on_a - p, v = on_b - p;
            return dot(u, v) / std::max(std::sqrt(dot(u, u) * dot(v, v)), 1e-300);
        };
        arc.from_facing = look(from, arc.from_a, arc.from_b);
        arc.to_facing = look(to, arc.to_a, arc.to_b);
        // At the boundary there is no angle left; between two lines it is the same all along.
        if (axis_.nodes[from].radius <= 2) arc.from_facing = arc.to_facing;
        if (axis_.nodes[to].radius <= 2) arc.to_facing = arc.from_facing;
        axis_.arcs.push_back(arc);
    }

    Vec2 centre_;
    double scale_ = 1;
    std::vector<Side> sides_;
    MedialAxis axis_;
};

} // namespace

MedialAxis medial_axis(const std::vector<Polygon>& polygons, Care care) {
    Builder builder(polygons);
    return care == Care::quick ? builder.build<VoronoiBuilder>() : builder.build<bp::voronoi_builder<std::int32_t>>();
}

} // namespace touchmark::geometry
