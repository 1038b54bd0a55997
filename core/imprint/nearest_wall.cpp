// SPDX-License-Identifier: MIT
#include "core/imprint/nearest_wall.h"

#include "core/imprint/extent.h"
#include "core/imprint/round_clearance.h"

#include <algorithm>
#include <cmath>

namespace touchmark::imprint {
namespace {

constexpr double flat = 5e-3;  // mm that the footprint's polygons may be off its curves
constexpr double level = 1e-3; // mm; meshes are single precision, so a coplanar neighbour is off by a little
constexpr double thorough = 6; // mm; thicker walls than that matter to nobody, and the search slows with them
constexpr double hair = 1e-2;  // mm from the room's edge that still counts as its edge, on an exact mesh

using Corners = std::array<Vec3, 3>;

struct Pair {
    Vec3 p, q;
};

/// The nearest points of two segments.
Pair nearest_points(const Vec3& a, const Vec3& b, const Vec3& c, const Vec3& d) {
    const Vec3 u = b - a, v = d - c, w = a - c;
    const double uu = dot(u, u), vv = dot(v, v), uv = dot(u, v), uw = dot(u, w), vw = dot(v, w);
    const double det = uu * vv - uv * uv;
    double s = det > 1e-12 * uu * vv ? std::clamp((uv * vw - vv * uw) / det, 0.0, 1.0) : 0.0;
    double t = vv > 0 ? (uv * s + vw) / vv : 0.0;
    if (t < 0 || t > 1) {
        t = std::clamp(t, 0.0, 1.0);
        s = uu > 0 ? std::clamp((uv * t - uw) / uu, 0.0, 1.0) : 0.0;
    }
    return {a + u * s, c + v * t};
}

/// The foot of the perpendicular from p, when it falls inside the triangle.
std::optional<Vec3> foot_inside(const Corners& t, const Vec3& p) {
    const Vec3 normal = cross(t[1] - t[0], t[2] - t[0]);
    const double size = dot(normal, normal);
    if (size <= 0) return std::nullopt;
    const Vec3 foot = p - normal * (dot(p - t[0], normal) / size);
    for (std::size_t i = 0; i < 3; ++i)
        if (dot(cross(t[(i + 1) % 3] - t[i], foot - t[i]), normal) < 0) return std::nullopt;
    return foot;
}

/// Height of the triangle over the point, when it lies over or under it.
std::optional<double> height_at(const Corners& t, Vec2 p) {
    const auto flat2 = [](const Vec3& v) { return Vec2{v.x, v.y}; };
    const Vec2 a = flat2(t[0]), u = flat2(t[1]) - a, v = flat2(t[2]) - a, w = p - a;
    const double det = cross(u, v);
    if (std::abs(det) < 1e-14) return std::nullopt;
    const double s = cross(w, v) / det, r = cross(u, w) / det;
    if (s < 0 || r < 0 || s + r > 1) return std::nullopt;
    return t[0].z + s * (t[1].z - t[0].z) + r * (t[2].z - t[0].z);
}

Box2 footing(const Corners& t, double more) {
    Box2 box;
    for (const Vec3& corner : t)
        box.add(Vec2{corner.x, corner.y});
    return box.widened(more);
}

double apart(const Box2& a, const Box2& b) {
    return std::hypot(std::max({0.0, a.low.x - b.high.x, b.low.x - a.high.x}),
                      std::max({0.0, a.low.y - b.high.y, b.low.y - a.high.y}));
}

/// The part of a–b with low ≤ z ≤ high.
std::optional<Pair> between(Vec3 a, Vec3 b, double low, double high) {
    if (a.z > b.z) std::swap(a, b);
    if (b.z < low || a.z > high) return std::nullopt;
    const Vec3 d = b - a;
    const double rise = b.z - a.z;
    const double from = rise > 0 ? std::max(0.0, (low - a.z) / rise) : 0.0,
                 to = rise > 0 ? std::min(1.0, (high - a.z) / rise) : 1.0;
    return Pair{a + d * from, a + d * to};
}

/// Under the face. Heights are negative there; material is `-depth - z` thick over a point right under the footprint.
class WallSearch {
public:
    WallSearch(const FootprintArea& mark, double within, std::span<const int> but)
        : mark_(mark), but_(but), best_(within) {}

    [[nodiscard]] double best() const { return best_ - 1e-6; }
    [[nodiscard]] double bound(const Box3& part_box) const {
        const Box3 box = mark_.own(part_box);
        if (box.low.z > -level) return 1e300;
        const double aside = apart({{box.low.x, box.low.y}, {box.high.x, box.high.y}}, mark_.box);
        const double under = -mark_.depth - std::min(box.high.z, 0.0);
        if (aside > 0 && straight_) return 1e300;
        return aside > 0 ? std::hypot(aside, std::max(under, 0.0)) : under;
    }
    void look(const Triangle& triangle) {
        if (mark_.owns(triangle.face) || std::find(but_.begin(), but_.end(), triangle.face) != but_.end()) return;
        looking_at_ = triangle.face;
        Corners t;
        for (std::size_t i = 0; i < 3; ++i)
            t[i] = mark_.own(triangle.corners[i]);
        const double lowest = std::min({t[0].z, t[1].z, t[2].z}), highest = std::max({t[0].z, t[1].z, t[2].z});
        if (lowest > -level) return;
        const double aside = apart(footing(t, 0), mark_.box);
        const double under = -mark_.depth - std::min(highest, 0.0);
        if ((aside > 0 ? std::hypot(aside, std::max(under, 0.0)) : under) >= best()) return;
        if (!beneath(t)) return;
        for (std::size_t i = 0; i < 3; ++i)
            side_counts_[i] = !straight_ && may_be_beneath({t[i].x, t[i].y}, {t[(i + 1) % 3].x, t[(i + 1) % 3].y});
        for (const Vec3& corner : t)
            if (-mark_.depth - corner.z < best() && mark_.outline.inside({corner.x, corner.y})) offer_under(corner);
        const double near = std::max(best_, 0.0), far_below = std::clamp(under, 0.0, near);
        const double reach = straight_ ? 0.0 : std::sqrt(near * near - far_below * far_below);
        mark_.outline.visit(footing(t, reach), [&](const surface::SegmentTree::Edge& edge) {
            if (outside(edge) <= reach) look_at_edge(t, edge);
            return true;
        });
    }
    [[nodiscard]] const std::optional<Obstacles::Wall>& found() const { return found_; }

    /// First only what is straight under the footprint, which is quick and leaves little to look at for the rest.
    void look_straight() { straight_ = true; }
    void look_all_round() {
        straight_ = false;
        best_ = std::min(best_, thorough);
    }

private:
    [[nodiscard]] bool beneath(Vec2 p) const { return mark_.room.inside(p) && !mark_.room.nearest(p, mark_.beside); }
    /// False where nothing of the triangle is beneath the face. Upright triangles are the many walls around it.
    [[nodiscard]] bool beneath(const Corners& t) const {
        if (apart(footing(t, 0), mark_.room_box) > 0) return false;
        const Vec2 a{t[0].x, t[0].y}, b{t[1].x, t[1].y}, c{t[2].x, t[2].y};
        const double longest = std::max({distance(a, b), distance(b, c), distance(c, a)});
        if (std::abs(cross(b - a, c - a)) > mark_.beside * longest) return true;
        for (const Vec2 p : {a, b, c, (a + b) * 0.5, (b + c) * 0.5, (c + a) * 0.5})
            if (beneath(p)) return true;
        return false;
    }
    /// Whether some of a–b may be beneath the face. Not so along an edge of the room, where walls and what ends there
    /// have their sides, and wholly outside: the point nearest to each edge of the mark would be sought there in vain.
    [[nodiscard]] bool may_be_beneath(Vec2 a, Vec2 b) const {
        const double size = distance(a, b);
        if (size < level || beneath(a) || beneath(b)) return beneath(a) || beneath(b);
        Box2 all;
        all.add(a);
        all.add(b);
        bool along = false;
        std::vector<double> crossed{0, size};
        mark_.room.visit(all.widened(mark_.beside), [&](const surface::SegmentTree::Edge& edge) {
            const auto off = [&](Vec2 p) { return distance(surface::nearest_on(edge.a, edge.b, p), p); };
            along = off(a) < mark_.beside && off(b) < mark_.beside;
            if (const auto at = surface::meeting(a, b, edge.a, edge.b)) crossed.push_back(distance(a, *at));
            return !along;
        });
        if (along) return false;
        std::ranges::sort(crossed);
        for (std::size_t i = 0; i + 1 < crossed.size(); ++i)
            if (crossed[i + 1] - crossed[i] > level &&
                mark_.room.inside(a + (b - a) * ((crossed[i] + crossed[i + 1]) / 2 / size)))
                return true;
        return false;
    }
    /// So far outside the room the edge lies at least, 0 where it does not: nothing beneath the face is nearer to it.
    [[nodiscard]] double outside(const surface::SegmentTree::Edge& edge) {
        constexpr double unknown = -1;
        outside_.resize(mark_.outline.edges().size(), unknown);
        double& known = outside_[static_cast<std::size_t>(&edge - mark_.outline.edges().data())];
        if (known != unknown) return known;
        if (const auto away = mark_.room.nearest(edge.a, 1e300); away && !mark_.room.inside(edge.a))
            return known = std::max(0.0, away->distance - distance(edge.a, edge.b));
        return known = 0;
    }
    void look_at_edge(const Corners& t, const surface::SegmentTree::Edge& edge) {
        const double floor = -mark_.depth;
        const Vec3 a{edge.a.x, edge.a.y, floor}, b{edge.b.x, edge.b.y, floor};
        if (const auto z = height_at(t, edge.a)) offer_under({edge.a.x, edge.a.y, *z});
        if (!straight_)
            if (const auto foot = foot_inside(t, a)) offer(distance(*foot, a), *foot, edge.a);
        for (std::size_t i = 0; i < 3; ++i) {
            const Vec3 &p = t[i], &q = t[(i + 1) % 3];
            if (const auto at = surface::meeting({p.x, p.y}, {q.x, q.y}, edge.a, edge.b)) {
                const double run = std::hypot(q.x - p.x, q.y - p.y);
                const double s = run > 0 ? std::hypot(at->x - p.x, at->y - p.y) / run : 0.0;
                offer_under({at->x, at->y, p.z + (q.z - p.z) * s});
            }
            if (!side_counts_[i]) continue;
            if (const auto under = between(p, q, -1e300, floor)) {
                const Pair near = nearest_points(under->p, under->q, a, b);
                offer(distance(near.p, near.q), near.p, {near.q.x, near.q.y});
            }
            if (const auto along = between(p, q, floor, -level)) {
                const auto level_off = [](const Vec3& v) { return Vec3{v.x, v.y, 0}; };
                const Pair near = nearest_points(level_off(along->p), level_off(along->q), level_off(a), level_off(b));
                offer(distance(near.p, near.q), {near.p.x, near.p.y, (along->p.z + along->q.z) / 2},
                      {near.q.x, near.q.y});
            }
        }
    }
    void offer_under(const Vec3& p) {
        if (p.z < -level) offer(-mark_.depth - p.z, p, {p.x, p.y});
    }
    void offer(double thickness, const Vec3& p, Vec2 at) {
        if (thickness >= best() || p.z > -level) return;
        const Vec2 below{p.x, p.y};
        if (!beneath(below)) return;
        best_ = thickness;
        found_ = Obstacles::Wall{thickness, at, mark_.space(p), looking_at_};
    }

    const FootprintArea& mark_;
    std::span<const int> but_;
    double best_;
    int looking_at_ = -1;
    bool straight_ = false;
    std::array<bool, 3> side_counts_{}; ///< of the triangle that is looked at, where a nearest point is sought
    std::vector<double> outside_;       ///< for each of the outline's edges
    std::optional<Obstacles::Wall> found_;
};

/// Over the face.
class RoofSearch {
public:
    RoofSearch(const FootprintArea& mark, double within) : mark_(mark), best_(within) {}

    [[nodiscard]] double best() const { return best_ - 1e-6; }
    [[nodiscard]] double bound(const Box3& part_box) const {
        const Box3 box = mark_.own(part_box);
        if (box.high.z < level || apart({{box.low.x, box.low.y}, {box.high.x, box.high.y}}, mark_.box) > 0)
            return 1e300;
        return std::max(box.low.z, 0.0);
    }
    void look(const Triangle& triangle) {
        if (mark_.owns(triangle.face)) return;
        Corners t;
        for (std::size_t i = 0; i < 3; ++i)
            t[i] = mark_.own(triangle.corners[i]);
        if (std::max({t[0].z, t[1].z, t[2].z}) < level || std::min({t[0].z, t[1].z, t[2].z}) >= best()) return;
        for (const Vec3& corner : t)
            if (corner.z >= -level && mark_.outline.inside({corner.x, corner.y})) offer(corner.z);
        mark_.outline.visit(footing(t, 0), [&](const surface::SegmentTree::Edge& edge) {
            if (const auto z = height_at(t, edge.a)) offer(*z);
            for (std::size_t i = 0; i < 3; ++i) {
                const Vec3 &p = t[i], &q = t[(i + 1) % 3];
                const auto at = surface::meeting({p.x, p.y}, {q.x, q.y}, edge.a, edge.b);
                const double run = std::hypot(q.x - p.x, q.y - p.y);
                if (at && run > 0) offer(p.z + (q.z - p.z) * std::hypot(at->x - p.x, at->y - p.y) / run);
            }
            return true;
        });
    }
    [[nodiscard]] std::optional<double> found() const { return found_; }

private:
    void offer(double height) {
        if (height < -level || height >= best()) return;
        found_ = best_ = std::max(height, 0.0);
    }

    const FootprintArea& mark_;
    double best_;
    std::optional<double> found_;
};

} // namespace

FootprintArea::FootprintArea(const Footprint& mark, double mesh_tolerance)
    : FootprintArea(mark, mesh_tolerance, geometry::flattened(mark.outline, flat),
                    geometry::flattened(mark.map->room(), flat)) {}

FootprintArea::FootprintArea(const Footprint& mark, double mesh_tolerance,
                             const std::vector<geometry::Polygon>& outline_polygons,
                             const std::vector<geometry::Polygon>& room_polygons)
    : depth(-extent_of(mark).low), beside(hair + mesh_tolerance), faces(mark.map->faces()), outline(outline_polygons),
      room(room_polygons) {
    const Vec3 normal = mark.map->normal({}), x = mark.map->x_direction({});
    frame_ = {mark.map->point({}), x, cross(normal, x), normal};
    for (const auto& [polygons, bounds] : {std::pair(&outline_polygons, &box), std::pair(&room_polygons, &room_box)})
        for (const geometry::Polygon& polygon : *polygons)
            for (const Vec2 p : polygon)
                bounds->add(p);
}

Vec3 FootprintArea::own(const Vec3& p) const {
    const Vec3 d = p - frame_.origin;
    return {dot(d, frame_.x), dot(d, frame_.y), dot(d, frame_.z)};
}

Vec3 FootprintArea::space(const Vec3& p) const {
    return frame_.origin + frame_.x * p.x + frame_.y * p.y + frame_.z * p.z;
}

Box3 FootprintArea::own(const Box3& part_box) const {
    const Vec3 centre = own(part_box.centre()), half = part_box.size() * 0.5;
    const auto reach = [&](const Vec3& axis) {
        return std::abs(axis.x) * half.x + std::abs(axis.y) * half.y + std::abs(axis.z) * half.z;
    };
    const Vec3 size{reach(frame_.x), reach(frame_.y), reach(frame_.z)};
    return {centre - size, centre + size};
}

std::optional<Obstacles::Wall> nearest_wall(const Footprint& mark, double mesh_tolerance, const TriangleTree& tree,
                                            double within, std::span<const int> but) {
    if (mark.map->unrolling() || mark.map->chart()) return nearest_wall_round(mark, mesh_tolerance, tree, within, but);
    const FootprintArea area(mark, mesh_tolerance);
    if (area.outline.empty()) return std::nullopt;
    WallSearch search(area, within, but);
    search.look_straight();
    tree.visit(search);
    search.look_all_round();
    tree.visit(search);
    return search.found();
}

std::optional<double> lowest_roof(const Footprint& mark, const TriangleTree& tree, double within) {
    if (mark.map->unrolling() || mark.map->chart()) return lowest_roof_round(mark, tree, within);
    const FootprintArea area(mark);
    if (area.outline.empty()) return std::nullopt;
    RoofSearch search(area, within);
    tree.visit(search);
    return search.found();
}

} // namespace touchmark::imprint
