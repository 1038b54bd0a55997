// SPDX-License-Identifier: MIT
#include "core/plate/plate.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace touchmark::plate {
namespace {

constexpr double level = 0.02;          ///< mm; what lies this close to the lowest point touches the plate
constexpr double least_footing = 1.0;   ///< mm²; assumed: less does not hold on a plate
constexpr double same_direction = 1e-6; ///< 1 - cosine

/// Flat faces that look the same way; they may lie at different levels.
struct Direction {
    Vec3 normal;
    std::vector<int> faces;
};

std::vector<Direction> flat_directions(const part::Part& part) {
    std::vector<Direction> directions;
    for (const part::Face& face : part.faces()) {
        if (face.kind != part::FaceKind::plane || !part.bodies()[static_cast<std::size_t>(face.body)].solid) continue;
        const auto same = std::find_if(directions.begin(), directions.end(), [&](const Direction& direction) {
            return dot(direction.normal, face.frame.z) > 1 - same_direction;
        });
        if (same == directions.end())
            directions.push_back({face.frame.z, {face.index}});
        else
            same->faces.push_back(face.index);
    }
    return directions;
}

/// Volume centroid of what the triangles enclose; the middle of the box where they enclose nothing.
Vec3 centre_of(const Meshes& meshes) {
    Vec3 sum;
    double six_volumes = 0;
    Box3 box;
    for (const auto& mesh : meshes) {
        if (!mesh) continue;
        const auto point = [&](std::uint32_t i) {
            const auto& p = mesh->points[i];
            return Vec3{p[0], p[1], p[2]};
        };
        for (const auto& [i, k, l] : mesh->triangles) {
            const Vec3 a = point(i), b = point(k), c = point(l);
            const double volume = dot(a, cross(b, c));
            sum = sum + (a + b + c) * (volume / 4);
            six_volumes += volume;
            box.add(a), box.add(b), box.add(c);
        }
    }
    const Vec3 size = box.size();
    if (std::abs(six_volumes) <= 1e-9 * size.x * size.y * size.z) return box.centre();
    return sum * (1 / six_volumes);
}

/// The points farthest along 26 directions: most faces that something juts below are found out by these alone.
std::vector<Vec3> outermost(const Meshes& meshes) {
    std::vector<Vec3> directions, points;
    for (int x = -1; x <= 1; ++x)
        for (int y = -1; y <= 1; ++y)
            for (int z = -1; z <= 1; ++z)
                if (x != 0 || y != 0 || z != 0)
                    directions.push_back({static_cast<double>(x), static_cast<double>(y), static_cast<double>(z)});
    std::vector<double> farthest(directions.size(), -std::numeric_limits<double>::infinity());
    points.resize(directions.size());
    bool any = false;
    for (const auto& mesh : meshes) {
        if (!mesh) continue;
        for (const auto& q : mesh->points) {
            const Vec3 p{q[0], q[1], q[2]};
            any = true;
            for (std::size_t i = 0; i < directions.size(); ++i)
                if (const double d = dot(directions[i], p); d > farthest[i]) farthest[i] = d, points[i] = p;
        }
    }
    if (!any) points.clear();
    return points;
}

/// Andrew's monotone chain; counter-clockwise.
std::vector<Vec2> convex_hull(std::vector<Vec2> points) {
    std::sort(points.begin(), points.end(), [](Vec2 a, Vec2 b) { return a.x != b.x ? a.x < b.x : a.y < b.y; });
    std::vector<Vec2> hull;
    const auto chain = [&](auto first, auto last) {
        const std::size_t start = hull.size();
        for (auto at = first; at != last; ++at) {
            while (hull.size() >= start + 2 && cross(hull.back() - hull[hull.size() - 2], *at - hull.back()) <= 0)
                hull.pop_back();
            hull.push_back(*at);
        }
        if (!hull.empty()) hull.pop_back();
    };
    chain(points.begin(), points.end());
    chain(points.rbegin(), points.rend());
    return hull;
}

bool inside(const std::vector<Vec2>& hull, Vec2 p) {
    if (hull.size() < 3) return false;
    for (std::size_t i = 0; i < hull.size(); ++i)
        if (cross(hull[(i + 1) % hull.size()] - hull[i], p - hull[i]) < 0) return false;
    return true;
}

bool stands_by_itself(const Placement& placement, const Meshes& meshes, Vec3 centre) {
    std::vector<Vec2> touching;
    for (const auto& mesh : meshes)
        if (mesh)
            for (const auto& p : mesh->points)
                if (const Vec3 q = placement({p[0], p[1], p[2]}); q.z <= level) touching.push_back({q.x, q.y});
    const Vec3 above = placement(centre);
    return inside(convex_hull(std::move(touching)), {above.x, above.y});
}

} // namespace

std::vector<Standing> stand_with_side_wall(const part::Part& part, const Meshes& meshes, Vec3 wall_normal,
                                           const Pose& now, const process::Process& process) {
    const double high_up = 2 * process.first_layer_mm.value; // a wall, wherever it lies
    const Vec3 centre = centre_of(meshes);
    const std::vector<Vec3> outer = outermost(meshes);
    const auto& faces = part.faces();
    std::vector<Standing> standings;
    for (const Direction& direction : flat_directions(part)) {
        if (zone_of(-dot(direction.normal, wall_normal), high_up, process) != Zone::side_wall) continue;
        double area = 0, lowest = -std::numeric_limits<double>::infinity();
        for (const int index : direction.faces) {
            const part::Face& face = faces[static_cast<std::size_t>(index)];
            area += face.area_mm2;
            lowest = std::max(lowest, dot(direction.normal, face.frame.origin));
        }
        const auto juts_below = [&](Vec3 p) { return dot(direction.normal, p) > lowest + level; };
        if (area < least_footing || std::any_of(outer.begin(), outer.end(), juts_below)) continue;

        Standing standing{with_down(now, direction.normal), -1, 0, 0};
        const Placement placement = placement_of(standing.pose, meshes);
        double largest = 0;
        for (const int index : direction.faces) {
            const part::Face& face = faces[static_cast<std::size_t>(index)];
            if (placement(face.frame.origin).z > level) continue;
            standing.footing_mm2 += face.area_mm2;
            if (face.area_mm2 > largest) largest = face.area_mm2, standing.face = index;
        }
        if (standing.footing_mm2 < least_footing || !stands_by_itself(placement, meshes, centre)) continue;
        standing.height_mm = height_of(placement, meshes);
        standings.push_back(standing);
    }
    std::stable_sort(standings.begin(), standings.end(),
                     [](const Standing& a, const Standing& b) { return a.footing_mm2 > b.footing_mm2; });
    return standings;
}

} // namespace touchmark::plate
