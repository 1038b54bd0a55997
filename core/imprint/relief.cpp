// SPDX-License-Identifier: MIT
#include "core/imprint/imprint.h"
#include "core/imprint/trapezoids.h"
#include "core/surface/unrolling.h"

#include <algorithm>
#include <cmath>

namespace touchmark::imprint {
namespace {

constexpr double flat = 0.01; // mm, finer than a screen shows

std::array<float, 3> single(const Vec3& v) {
    return {static_cast<float>(v.x), static_cast<float>(v.y), static_cast<float>(v.z)};
}

class ReliefBuilder {
public:
    explicit ReliefBuilder(const surface::FaceMap& map) : round_(map.unrolling()) {
        const Vec3 normal = map.normal({}), x = map.x_direction({});
        frame_ = {map.point({}), x, cross(normal, x), normal};
    }

    void cap(std::span<const std::array<Vec2, 4>> areas, double height) {
        for (const auto& [a, b, c, d] : areas) {
            if (a != b) triangle(a, b, c, height);
            if (c != d) triangle(a, c, d, height);
        }
    }
    /// `inward`: the wall faces the inside of the outline.
    void wall(const geometry::Polygon& polygon, double low, double high, bool inward) {
        for (std::size_t i = 0; i < polygon.size(); ++i) {
            const Vec2 a = polygon[i], b = polygon[(i + 1) % polygon.size()];
            if (distance(a, b) < 1e-9) continue;
            const int parts = parts_between(a, b);
            for (int k = 0; k < parts; ++k) {
                const Vec2 from = a + (b - a) * (static_cast<double>(k) / parts);
                const Vec2 to = a + (b - a) * (static_cast<double>(k + 1) / parts);
                inward ? upright(to, from, low, high) : upright(from, to, low, high);
            }
        }
    }
    void line(const geometry::Polygon& polygon, double height) {
        auto& points = mesh_.edges.emplace_back();
        for (std::size_t i = 0; i < polygon.size(); ++i) {
            const Vec2 a = polygon[i], b = polygon[(i + 1) % polygon.size()];
            const int parts = parts_between(a, b);
            for (int k = 0; k < parts; ++k)
                points.push_back(single(at(a + (b - a) * (static_cast<double>(k) / parts), height)));
        }
        if (!points.empty()) points.push_back(points.front());
    }
    [[nodiscard]] part::FaceMesh take() { return std::move(mesh_); }

private:
    [[nodiscard]] Vec3 at(Vec2 p, double height) const {
        return round_ ? round_->point(round_->parameters(p), height) : frame_.to_space(p) + frame_.z * height;
    }
    [[nodiscard]] Vec3 normal(Vec2 p) const { return round_ ? round_->normal(round_->parameters(p).x) : frame_.z; }

    /// So many that the chord stays within `flat` of the surface.
    [[nodiscard]] int parts_between(Vec2 a, Vec2 b) const {
        if (!round_) return 1;
        const Vec2 p = round_->parameters(a), q = round_->parameters(b);
        const double radius = std::max({std::abs(round_->radius_at(p.y)), std::abs(round_->radius_at(q.y)), flat});
        const double step = 2 * std::acos(1 - std::min(flat / radius, 0.5));
        return std::clamp(static_cast<int>(std::ceil(std::abs(q.x - p.x) / step)), 1, 64);
    }

    /// Halved across its longest way round the axis until it is flat enough.
    void triangle(Vec2 a, Vec2 b, Vec2 c, double height, int depth = 0) {
        const int ab = parts_between(a, b), bc = parts_between(b, c), ca = parts_between(c, a);
        constexpr int deepest = 12;
        if (std::max({ab, bc, ca}) == 1 || depth == deepest) {
            corners({a, height, normal(a)}, {b, height, normal(b)}, {c, height, normal(c)});
            return;
        }
        if (bc >= ab && bc >= ca) return triangle(b, c, a, height, depth);
        if (ca > ab) return triangle(c, a, b, height, depth);
        const Vec2 middle = (a + b) * 0.5;
        triangle(a, middle, c, height, depth + 1);
        triangle(middle, b, c, height, depth + 1);
    }

    void upright(Vec2 a, Vec2 b, double low, double high) {
        const Vec3 p = at(a, low), q = at(b, low), along = q - p;
        const Vec3 right = normalised(cross(along, normal(a)));
        corners({a, low, right}, {b, low, right}, {b, high, right});
        corners({a, low, right}, {b, high, right}, {a, high, right});
    }

    struct Corner {
        Vec2 at;
        double height;
        Vec3 normal;
    };
    void corners(const Corner& a, const Corner& b, const Corner& c) {
        const auto first = static_cast<std::uint32_t>(mesh_.points.size());
        for (const Corner* corner : {&a, &b, &c}) {
            mesh_.points.push_back(single(at(corner->at, corner->height)));
            mesh_.normals.push_back(single(corner->normal));
        }
        mesh_.triangles.push_back({first, first + 1, first + 2});
    }

    const surface::Unrolling* round_;
    Frame frame_;
    part::FaceMesh mesh_;
};

} // namespace

part::FaceMesh relief(const Footprint& mark, double lift) {
    if (!mark.map) return {};
    ReliefBuilder builder(*mark.map);
    const bool cut = mark.mode == Mode::engrave;
    const double depth = mark.depth.value;
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
