// SPDX-License-Identifier: MIT
#include "core/imprint/imprint.h"
#include "core/imprint/trapezoids.h"

namespace touchmark::imprint {
namespace {

constexpr double flat = 0.01; // mm, finer than a screen shows

std::array<float, 3> single(const Vec3& v) {
    return {static_cast<float>(v.x), static_cast<float>(v.y), static_cast<float>(v.z)};
}

class ReliefBuilder {
public:
    explicit ReliefBuilder(const Frame& frame) : frame_(frame) {}

    void cap(std::span<const std::array<Vec2, 4>> areas, double height) {
        for (const std::array<Vec2, 4>& area : areas)
            quad(at(area[0], height), at(area[1], height), at(area[2], height), at(area[3], height), frame_.z);
    }
    /// `inward`: the wall faces the inside of the outline.
    void wall(const geometry::Polygon& polygon, double low, double high, bool inward) {
        for (std::size_t i = 0; i < polygon.size(); ++i) {
            Vec2 a = polygon[i], b = polygon[(i + 1) % polygon.size()];
            const double size = distance(a, b);
            if (size < 1e-9) continue;
            if (inward) std::swap(a, b);
            const Vec2 right = Vec2{b.y - a.y, a.x - b.x} * (1 / size);
            quad(at(a, low), at(b, low), at(b, high), at(a, high), frame_.x * right.x + frame_.y * right.y);
        }
    }
    void line(const geometry::Polygon& polygon, double height) {
        auto& points = mesh_.edges.emplace_back();
        for (std::size_t i = 0; i <= polygon.size(); ++i)
            points.push_back(single(at(polygon[i % polygon.size()], height)));
    }
    [[nodiscard]] part::FaceMesh take() { return std::move(mesh_); }

private:
    [[nodiscard]] Vec3 at(Vec2 p, double height) const { return frame_.to_space(p) + frame_.z * height; }

    void quad(const Vec3& a, const Vec3& b, const Vec3& c, const Vec3& d, const Vec3& normal) {
        const auto first = static_cast<std::uint32_t>(mesh_.points.size());
        for (const Vec3& p : {a, b, c, d}) {
            mesh_.points.push_back(single(p));
            mesh_.normals.push_back(single(normal));
        }
        if (a != b) mesh_.triangles.push_back({first, first + 1, first + 2});
        if (c != d) mesh_.triangles.push_back({first, first + 2, first + 3});
    }

    Frame frame_;
    part::FaceMesh mesh_;
};

} // namespace

part::FaceMesh relief(const Footprint& mark, double lift) {
    if (!mark.map) return {};
    const Vec3 normal = mark.map->normal({}), x = mark.map->x_direction({});
    ReliefBuilder builder({mark.map->point({}), x, cross(normal, x), normal});
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
