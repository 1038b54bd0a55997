// SPDX-License-Identifier: MIT
#include "core/imprint/extent.h"
#include "core/imprint/flat_floor.h"
#include "core/imprint/imprint.h"
#include "core/imprint/trapezoids.h"
#include "core/imprint/wall_lines.h"
#include "core/surface/chart.h"
#include "core/surface/unrolling.h"

#include <algorithm>
#include <cmath>
#include <iterator>

namespace touchmark::imprint {
namespace {

constexpr double flat = 0.01; // mm, finer than a screen shows
constexpr double film = 0.02; // mm: as high as what lies flush or inside is drawn on the face

std::array<float, 3> single(const Vec3& v) {
    return {static_cast<float>(v.x), static_cast<float>(v.y), static_cast<float>(v.z)};
}

/// A point of the mark with its angle round the axis, 0 on a plane.
struct Spot {
    Vec2 at;
    double angle = 0;
};

class ReliefBuilder {
public:
    ReliefBuilder(const surface::FaceMap& map, const geometry::Outline& outline, std::optional<FlatFloor> floor = {})
        : round_(map.unrolling()), chart_(map.chart()), flat_(floor) {
        const Vec3 normal = map.normal({}), x = map.x_direction({});
        frame_ = {map.point({}), x, cross(normal, x), normal};
        if (chart_) step_ = flat_length(map, geometry::bounds(outline));
        if (!round_) return;
        const Box2 box = geometry::bounds(outline);
        double radius = 0;
        for (const Vec2 p : {box.low, box.high, Vec2{box.low.x, box.high.y}, Vec2{box.high.x, box.low.y}})
            radius = std::max(radius, std::abs(round_->radius_at(round_->parameters(p).y)));
        step_ = std::max(2 * std::acos(1 - std::min(flat / std::max(radius, flat), 0.5)), 0.02);
    }

    void cap(std::span<const std::array<Vec2, 4>> areas, double height) {
        for (const auto& area : areas) {
            const Spot a = spot(area[0]), b = spot(area[1]), c = spot(area[2]), d = spot(area[3]);
            if (a.at != b.at) triangle(a, b, c, height);
            if (c.at != d.at) triangle(a, c, d, height);
        }
    }
    /// `inward`: the wall faces the inside of the outline.
    void wall(const geometry::Polygon& polygon, double low, double high, bool inward) {
        along(polygon,
              [&](Vec2 from, Vec2 to) { inward ? upright(to, from, low, high) : upright(from, to, low, high); });
    }
    void line(const geometry::Polygon& polygon, double height) {
        auto& points = mesh_.edges.emplace_back();
        along(polygon, [&](Vec2 from, Vec2) { points.push_back(single(place(from, height).point)); });
        if (!points.empty()) points.push_back(points.front());
    }
    /// Between two lines that run alike, `low` and `high` the heights of the first and of the second.
    void band(const geometry::Polygon& first, const geometry::Polygon& second, double low, double high) {
        for (std::size_t i = 0; i < first.size(); ++i) {
            const std::size_t next = (i + 1) % first.size();
            const Vec3 a = place(first[i], low).point, b = place(first[next], low).point,
                       c = place(second[next], high).point, d = place(second[i], high).point;
            const Vec3 across = cross(c - a, d - b);
            if (length(across) <= 0) continue;
            const Vec3 normal = normalised(across);
            const auto start = static_cast<std::uint32_t>(mesh_.points.size());
            for (const Vec3& p : {a, b, c, d})
                add(p, normal);
            if (distance(a, b) > 0) mesh_.triangles.push_back({start, start + 1, start + 2});
            if (distance(c, d) > 0) mesh_.triangles.push_back({start, start + 2, start + 3});
        }
    }
    [[nodiscard]] part::FaceMesh take() { return std::move(mesh_); }

private:
    /// mm between which the surface is flat enough, from how its normal turns under the outline.
    static double flat_length(const surface::FaceMap& map, const Box2& box) {
        constexpr int many = 6;
        double turning = 1e-6;
        for (int i = 0; i <= many; ++i)
            for (int j = 0; j <= many; ++j) {
                const Vec2 at = box.low + Vec2{box.width() * i / many, box.height() * j / many};
                for (const Vec2 way : {Vec2{0.1, 0}, Vec2{0, 0.1}})
                    turning = std::max(turning, distance(map.normal(at), map.normal(at + way)) / 0.1);
            }
        return std::clamp(std::sqrt(8 * flat / turning), 0.05, 50.0);
    }
    /// With a flat floor, heights beyond the face on the floor's side mean that plane, or `height` − depth over it.
    [[nodiscard]] surface::Unrolling::Place place(Vec2 p, double height) const {
        if (!flat_ || height == 0 || (height < 0) != (flat_->height < flat_->lowest)) return on_surface(p, height);
        const Vec3 floor = flat_->on_floor(on_surface(p, 0).point);
        const double depth =
            flat_->height < flat_->lowest ? flat_->lowest - flat_->height : flat_->height - flat_->highest;
        return {floor + flat_->frame.z * (height < 0 ? height + depth : height - depth), flat_->frame.z};
    }
    [[nodiscard]] surface::Unrolling::Place on_surface(Vec2 p, double height) const {
        if (chart_) {
            const auto at = surface::evaluator_of(chart_->face()).place(chart_->parameters(p));
            return {at.point + at.normal * height, at.normal};
        }
        if (round_) return round_->place(round_->parameters(p), height);
        return {frame_.to_space(p) + frame_.z * height, frame_.z};
    }
    [[nodiscard]] Spot spot(Vec2 p) const { return {p, round_ ? round_->parameters(p).x : 0}; }

    /// How far it is from one to the other, in what `step_` counts.
    [[nodiscard]] double bend(const Spot& a, const Spot& b) const {
        return chart_ ? distance(a.at, b.at) : std::abs(a.angle - b.angle);
    }
    /// So many that the chord stays near the surface.
    [[nodiscard]] int parts_between(const Spot& a, const Spot& b) const {
        if (!round_ && !chart_) return 1;
        return std::clamp(static_cast<int>(std::ceil(bend(a, b) / step_)), 1, 64);
    }

    /// visit(from, to) for each side of the polygon, in pieces where it bends with the surface.
    template <class Visit> void along(const geometry::Polygon& polygon, Visit&& visit) const {
        for (std::size_t i = 0; i < polygon.size(); ++i) {
            const Vec2 a = polygon[i], b = polygon[(i + 1) % polygon.size()];
            if (distance(a, b) < 1e-9) continue;
            const int parts = parts_between(spot(a), spot(b));
            for (int k = 0; k < parts; ++k)
                visit(a + (b - a) * (static_cast<double>(k) / parts),
                      a + (b - a) * (static_cast<double>(k + 1) / parts));
        }
    }

    /// Halved across its longest way until it is flat enough.
    void triangle(const Spot& a, const Spot& b, const Spot& c, double height, int depth = 0) {
        const double ab = bend(a, b), bc = bend(b, c), ca = bend(c, a);
        constexpr int deepest = 12;
        if (std::max({ab, bc, ca}) <= step_ || depth == deepest) {
            corners(a.at, b.at, c.at, height);
            return;
        }
        if (bc > ab && bc >= ca) return triangle(b, c, a, height, depth);
        if (ca > ab) return triangle(c, a, b, height, depth);
        const Spot middle = spot((a.at + b.at) * 0.5);
        triangle(a, middle, c, height, depth + 1);
        triangle(middle, b, c, height, depth + 1);
    }

    void corners(Vec2 a, Vec2 b, Vec2 c, double height) {
        const auto first = static_cast<std::uint32_t>(mesh_.points.size());
        for (const Vec2 p : {a, b, c}) {
            const auto at = place(p, height);
            add(at.point, at.normal);
        }
        mesh_.triangles.push_back({first, first + 1, first + 2});
    }

    void upright(Vec2 a, Vec2 b, double low, double high) {
        const auto p = place(a, low), q = place(b, low);
        const Vec3 right = normalised(cross(q.point - p.point, p.normal));
        const auto first = static_cast<std::uint32_t>(mesh_.points.size());
        add(p.point, right);
        add(q.point, right);
        add(place(b, high).point, right);
        add(place(a, high).point, right);
        mesh_.triangles.push_back({first, first + 1, first + 2});
        mesh_.triangles.push_back({first, first + 2, first + 3});
    }

    void add(const Vec3& point, const Vec3& normal) {
        mesh_.points.push_back(single(point));
        mesh_.normals.push_back(single(normal));
    }

    const surface::Unrolling* round_;
    const surface::Chart* chart_;
    std::optional<FlatFloor> flat_;
    double step_ = 1; ///< angle that a flat piece may span, or mm
    Frame frame_;
    part::FaceMesh mesh_;
};

/// With walls that lean; nothing where they would meet before the floor.
std::optional<part::FaceMesh> shaped_relief(const Footprint& mark, const WallShape& shape, double lift) {
    const bool cut = mark.mode == Mode::engrave;
    const double way = cut ? -1 : 1;
    ReliefBuilder builder(*mark.map, mark.outline);
    std::vector<std::vector<WallLine>> contours;
    std::vector<std::array<Vec2, 4>> rims, floors;
    for (const geometry::Region& region : mark.outline.regions) {
        std::vector<geometry::Polygon> rim, floor;
        const auto add = [&](const geometry::Contour& contour) {
            auto lines = wall_lines(contour, shape, flat);
            if (!lines) return false;
            rim.push_back(lines->front().points);
            floor.push_back(lines->back().points);
            contours.push_back(*std::move(lines));
            return true;
        };
        bool good = add(region.outer);
        for (const geometry::Contour& hole : region.holes)
            good = good && add(hole);
        if (!good) return std::nullopt;
        std::ranges::copy(trapezoids(rim), std::back_inserter(rims));
        std::ranges::copy(trapezoids(floor), std::back_inserter(floors));
    }
    builder.cap(cut ? rims : floors, cut ? lift : shape.depth + lift);
    for (const std::vector<WallLine>& lines : contours) {
        for (std::size_t i = 0; i + 1 < lines.size(); ++i) {
            const WallLine &from = lines[i], &to = lines[i + 1];
            const double raised = !cut && i + 2 == lines.size() ? lift : 0;
            builder.band(from.points, to.points, way * from.depth, way * to.depth + raised);
        }
        builder.line(cut ? lines.front().points : lines.back().points, cut ? lift : shape.depth + lift);
    }
    if (cut) builder.cap(floors, -shape.depth);
    return builder.take();
}

} // namespace

part::FaceMesh relief(const Footprint& mark, double lift) {
    if (!mark.map) return {};
    if (const auto shape = shape_of(mark);
        shape && mark.mode != Mode::inlay && mark.map->kind() == part::FaceKind::plane)
        if (auto mesh = shaped_relief(mark, *shape, lift)) return *std::move(mesh);
    ReliefBuilder builder(*mark.map, mark.outline,
                          has_flat_floor(mark) ? std::optional(flat_floor(mark)) : std::nullopt);
    const bool cut = mark.mode == Mode::engrave || mark.mode == Mode::through;
    const double depth = mark.mode == Mode::hidden || mark.mode == Mode::inlay ? film : mark.depth.value;
    std::vector<std::vector<geometry::Polygon>> regions;
    std::vector<std::array<Vec2, 4>> areas;
    for (const geometry::Region& region : mark.outline.regions) {
        auto& polygons = regions.emplace_back();
        polygons.push_back(geometry::flattened(region.outer, flat));
        for (const geometry::Contour& hole : region.holes)
            polygons.push_back(geometry::flattened(hole, flat));
        const auto own = trapezoids(polygons);
        areas.insert(areas.end(), own.begin(), own.end());
    }
    builder.cap(areas, cut ? lift : depth + lift);
    for (const auto& polygons : regions)
        for (const geometry::Polygon& polygon : polygons) {
            builder.wall(polygon, cut ? -depth : 0.0, cut ? lift : depth + lift, cut);
            builder.line(polygon, cut ? lift : depth + lift);
        }
    if (cut) builder.cap(areas, -depth);
    return builder.take();
}

} // namespace touchmark::imprint
