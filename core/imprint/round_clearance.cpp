// SPDX-License-Identifier: MIT
#include "core/imprint/round_clearance.h"

#include "core/imprint/extent.h"
#include "core/imprint/flat_floor.h"
#include "core/imprint/outline_points.h"
#include "core/imprint/ray.h"
#include "core/surface/chart.h"
#include "core/surface/segment_tree.h"
#include "core/surface/unrolling.h"

#include <algorithm>
#include <cmath>

namespace touchmark::imprint {
namespace {

constexpr double flat = 5e-3;   // mm that the footprint's polygons may be off its curves
constexpr double level = 1e-3;  // mm under or over the face that still count as the face
constexpr double thorough = 6;  // mm; thicker walls matter to nobody
constexpr double hair = 1e-2;   // mm from the room's edge that still counts as its edge, on an exact mesh
constexpr double spacing = 0.5; // mm between the points that are looked from

bool is_in(std::span<const int> faces, int face) {
    return std::find(faces.begin(), faces.end(), face) != faces.end();
}

/// Where a ray first meets a triangle. Of the mark's own face only what is beyond its axis.
class RaySearch {
public:
    RaySearch(const Vec3& from, const Vec3& along, double within, std::span<const int> own, double own_from,
              std::span<const int> but)
        : ray_{from, along}, best_(within), own_(own), own_from_(own_from), but_(but) {}

    [[nodiscard]] double best() const { return best_ - 1e-6; }
    [[nodiscard]] double bound(const Box3& box) const { return ray_.entry(box); }
    void look(const Triangle& triangle) {
        if (is_in(but_, triangle.face)) return;
        constexpr double edge = 1e-9;
        const auto at = ray_.hit(triangle, edge);
        if (!at || *at < level || *at >= best()) return;
        if (*at < own_from_ && is_in(own_, triangle.face)) return;
        best_ = *at;
        face_ = triangle.face;
        found_ = true;
    }
    [[nodiscard]] std::optional<double> found() const { return found_ ? std::optional(best_) : std::nullopt; }
    [[nodiscard]] int face() const { return face_; }

private:
    Ray ray_;
    double best_;
    std::span<const int> own_;
    double own_from_;
    std::span<const int> but_;
    int face_ = -1;
    bool found_ = false;
};

Vec3 nearest_in(const std::array<Vec3, 3>& t, const Vec3& p) {
    const Vec3 normal = cross(t[1] - t[0], t[2] - t[0]);
    const double size = dot(normal, normal);
    if (size > 0) {
        const Vec3 foot = p - normal * (dot(p - t[0], normal) / size);
        bool inside = true;
        for (std::size_t i = 0; i < 3; ++i)
            inside = inside && dot(cross(t[(i + 1) % 3] - t[i], foot - t[i]), normal) >= 0;
        if (inside) return foot;
    }
    Vec3 best = t[0];
    for (std::size_t i = 0; i < 3; ++i) {
        const Vec3 a = t[i], d = t[(i + 1) % 3] - a;
        const double dd = dot(d, d), s = dd > 0 ? std::clamp(dot(p - a, d) / dd, 0.0, 1.0) : 0.0;
        if (distance(a + d * s, p) < distance(best, p)) best = a + d * s;
    }
    return best;
}

/// The nearest point of another face beneath the mark's own.
template <class Beneath> class NearSearch {
public:
    NearSearch(const Vec3& from, double within, std::span<const int> own, std::span<const int> but,
               const Beneath& beneath)
        : from_(from), best_(within), own_(own), but_(but), beneath_(beneath) {}

    [[nodiscard]] double best() const { return best_ - 1e-6; }
    [[nodiscard]] double bound(const Box3& box) const {
        const auto off = [](double p, double low, double high) { return std::max({0.0, low - p, p - high}); };
        return length(Vec3{off(from_.x, box.low.x, box.high.x), off(from_.y, box.low.y, box.high.y),
                           off(from_.z, box.low.z, box.high.z)});
    }
    void look(const Triangle& triangle) {
        if (is_in(own_, triangle.face) || is_in(but_, triangle.face)) return;
        const Vec3 at = nearest_in(triangle.corners, from_);
        const double off = distance(at, from_);
        if (off >= best() || !beneath_(at)) return;
        best_ = off;
        found_ = at;
        face_ = triangle.face;
    }
    [[nodiscard]] const std::optional<Vec3>& found() const { return found_; }
    [[nodiscard]] double distance_found() const { return best_; }
    [[nodiscard]] int face() const { return face_; }

private:
    Vec3 from_;
    double best_;
    std::span<const int> own_;
    std::span<const int> but_;
    const Beneath& beneath_;
    std::optional<Vec3> found_;
    int face_ = -1;
};

/// The wanted ones of the triangles whose boxes meet a box.
template <class Wanted> class Collection {
public:
    Collection(const Box3& around, const Wanted& wanted) : around_(around), wanted_(wanted) {}

    [[nodiscard]] double best() const { return 1; }
    [[nodiscard]] double bound(const Box3& box) const { return meets(box) ? 0 : 2; }
    void look(const Triangle& triangle) {
        Box3 box;
        for (const Vec3& p : triangle.corners)
            box.add(p);
        if (meets(box) && wanted_(triangle)) found_.push_back(triangle);
    }
    [[nodiscard]] std::vector<Triangle> take() { return std::move(found_); }

private:
    [[nodiscard]] bool meets(const Box3& box) const {
        return box.low.x <= around_.high.x && around_.low.x <= box.high.x && box.low.y <= around_.high.y &&
               around_.low.y <= box.high.y && box.low.z <= around_.high.z && around_.low.z <= box.high.z;
    }
    Box3 around_;
    const Wanted& wanted_;
    std::vector<Triangle> found_;
};

template <class Wanted> TriangleTree collected(const TriangleTree& tree, const Box3& around, const Wanted& wanted) {
    Collection<Wanted> collection(around, wanted);
    tree.visit(collection);
    return TriangleTree(collection.take());
}

/// Whether any of a few points of the triangle is `beneath`.
template <class Beneath> bool reaches_beneath(const Triangle& triangle, const Beneath& beneath) {
    const auto& [a, b, c] = triangle.corners;
    return std::ranges::any_of(
        std::array{a, b, c, (a + b) * 0.5, (b + c) * 0.5, (c + a) * 0.5, (a + b + c) * (1.0 / 3)}, beneath);
}

Box3 widened(Box3 box, double by) {
    box.low = box.low - Vec3{by, by, by};
    box.high = box.high + Vec3{by, by, by};
    return box;
}

/// The mark's face under its outline: rolled out, or laid flat about the mark.
class Ground {
public:
    explicit Ground(const Footprint& mark)
        : map_(*mark.map), round_(mark.map->unrolling()), chart_(mark.map->chart()),
          room_(geometry::flattened(mark.map->room(), flat)) {}

    [[nodiscard]] surface::Unrolling::Place place(Vec2 at, double height) const {
        if (round_) return round_->place(round_->parameters(at), height);
        const auto there = surface::evaluator_of(chart_->face()).place(chart_->parameters(at));
        return {there.point + there.normal * height, there.normal};
    }
    /// How far through the material the own face can be met again.
    [[nodiscard]] double own_from(Vec2 at) const {
        if (round_) return std::max(0.1, std::abs(round_->axis_height(round_->parameters(at).y)));
        const auto there = surface::evaluator_of(chart_->face()).second(chart_->parameters(at));
        const surface::Curvatures bent = surface::curvatures(there, map_.normal(at));
        return std::clamp(0.5 / std::max({std::abs(bent.least), std::abs(bent.most), 1e-9}), 0.1, 1.0);
    }
    /// Whether the point lies under the room, seen from a place of the outline near it.
    [[nodiscard]] bool beneath(const Vec3& p, Vec2 near, double beside) const {
        Vec2 at;
        if (round_) {
            if (round_->height_of(p) > -level) return false;
            at = map_.locate(p);
        } else {
            // Near enough to take the face for its tangent plane.
            const auto there = place(near, 0);
            const Vec3 x = map_.x_direction(near), y = cross(there.normal, x), away = p - there.point;
            if (dot(away, there.normal) > -level) return false;
            at = near + Vec2{dot(away, x), dot(away, y)};
        }
        return room_.inside(at) && !room_.nearest(at, beside);
    }
    [[nodiscard]] bool is_round() const { return round_ != nullptr; }

private:
    const surface::FaceMap& map_;
    const surface::Unrolling* round_;
    const surface::Chart* chart_;
    surface::SegmentTree room_;
};

/// Where a mark ends under or over a place of its face, and which way that is.
class Ending {
public:
    explicit Ending(const Footprint& mark) : extent_(extent_of(mark)) {
        if (has_flat_floor(mark)) flat_ = flat_floor(mark);
    }
    struct Line {
        Vec3 way;          ///< from the face, unit
        double length = 0; ///< to where it ends
    };
    [[nodiscard]] Line from(const surface::Unrolling::Place& there) const {
        const double sense = extent_.low < 0 ? -1 : 1;
        if (!flat_) return {there.normal * sense, std::abs(extent_.reach())};
        return {flat_->frame.z * sense, sense * (flat_->height - flat_->above(there.point))};
    }

private:
    Extent extent_;
    std::optional<FlatFloor> flat_;
};

} // namespace

std::optional<Obstacles::Wall> nearest_wall_round(const Footprint& mark, double mesh_tolerance,
                                                  const TriangleTree& tree, double within, std::span<const int> but) {
    const Ground ground(mark);
    const std::vector<int> own = mark.map->faces();
    const double beside = hair + mesh_tolerance;
    const Ending ending(mark);
    const std::vector<geometry::Polygon> polygons = geometry::flattened(mark.outline, flat);
    const std::vector<Vec2> rim = along_outline(polygons, spacing);
    std::vector<Vec2> points = rim;
    const std::vector<Vec2> inner = within_outline(polygons, spacing);
    points.insert(points.end(), inner.begin(), inner.end());
    const auto other = [&](const Triangle& triangle) {
        return !is_in(own, triangle.face) && !is_in(but, triangle.face);
    };
    std::optional<Obstacles::Wall> found;
    double best = within, own_from = 1e300, deepest = 0;
    std::vector<surface::Unrolling::Place> places;
    Box3 reached;
    for (const Vec2 at : points) {
        const auto& there = places.emplace_back(ground.place(at, 0));
        const auto [down, depth] = ending.from(there);
        own_from = std::min(own_from, ground.own_from(at));
        deepest = std::max(deepest, depth);
        reached.add(there.point);
        reached.add(there.point + down * (best + depth));
    }
    // Most rays end before they can meet anything: only what is near is looked at.
    const TriangleTree near_rays = collected(tree, widened(reached, hair), [&](const Triangle& triangle) {
        return other(triangle) || (own_from <= best + deepest && is_in(own, triangle.face));
    });
    for (std::size_t i = 0; i < points.size() && !near_rays.empty(); ++i) {
        const auto& there = places[i];
        const Vec2 at = points[i];
        const auto [down, depth] = ending.from(there);
        RaySearch ray(there.point, down, best + depth, own, ground.own_from(at), but);
        near_rays.visit(ray);
        if (const auto hit = ray.found(); hit && *hit - depth < best) {
            best = *hit - depth;
            found = Obstacles::Wall{best, at, there.point + down * *hit, ray.face()};
        }
    }
    best = std::min(best, thorough);
    if (best <= 0) return found;
    Box3 around;
    for (const Vec2 at : rim) {
        const auto there = ground.place(at, 0);
        const auto [down, depth] = ending.from(there);
        around.add(there.point);
        around.add(there.point + down * depth);
    }
    const TriangleTree near_ones = collected(tree, widened(around, best), [&](const Triangle& triangle) {
        return other(triangle) && reaches_beneath(triangle, [&](const Vec3& p) {
                   return !ground.is_round() || ground.beneath(p, {}, beside);
               });
    });
    if (near_ones.empty()) return found;
    for (const Vec2 at : rim)
        for (const double part : {1.0, 0.5}) {
            const auto there = ground.place(at, 0);
            const auto [down, depth] = ending.from(there);
            const auto beneath = [&](const Vec3& p) { return ground.beneath(p, at, beside); };
            NearSearch near(there.point + down * (depth * part), best, own, but, beneath);
            near_ones.visit(near);
            if (!near.found()) continue;
            best = near.distance_found();
            found = Obstacles::Wall{best, at, *near.found(), near.face()};
        }
    return found;
}

std::optional<double> lowest_roof_round(const Footprint& mark, const TriangleTree& tree, double within) {
    const Ground ground(mark);
    const Ending ending(mark);
    const bool raised = mark.mode == Mode::raise;
    const double high = raised ? mark.depth.value : 0;
    std::optional<double> lowest;
    const std::vector<int> own = mark.map->faces();
    for (const Vec2 at : points_of(mark.outline, spacing)) {
        const auto there = ground.place(at, 0);
        const auto [up, rise] = raised ? ending.from(there) : Ending::Line{there.normal, high};
        // As if it rose equally everywhere.
        RaySearch ray(there.point, up, lowest.value_or(within) + rise - high, own, ground.own_from(at), {});
        tree.visit(ray);
        if (const auto hit = ray.found()) lowest = *hit - rise + high;
    }
    return lowest;
}

} // namespace touchmark::imprint
