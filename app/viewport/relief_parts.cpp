// SPDX-License-Identifier: MIT
#include "app/viewport/relief_parts.h"

#include <algorithm>

namespace touchmark::viewport {
namespace {

/// Stretches that have a wall.
std::size_t stretches_of(const std::vector<std::array<float, 3>>& edge) {
    std::size_t count = 0;
    for (std::size_t i = 0; i + 1 < edge.size(); ++i)
        count += edge[i] != edge[i + 1] ? 1 : 0;
    return count;
}

/// From the foot of a wall's second triangle up along its side.
Vec3 upwards(const part::FaceMesh& relief, std::size_t triangle) {
    const auto& corners = relief.triangles[triangle];
    const auto &foot = relief.points[corners[0]], &head = relief.points[corners[2]];
    return Vec3{head[0], head[1], head[2]} - Vec3{foot[0], foot[1], foot[2]};
}

} // namespace

ReliefParts parts_of(const part::FaceMesh& relief, bool is_cut) {
    std::size_t walls = 0;
    for (const auto& edge : relief.edges)
        walls += 2 * stretches_of(edge);
    const std::size_t count = relief.triangles.size();
    if (walls > count) return {};
    ReliefParts parts;
    std::size_t wall = is_cut ? (count - walls) / 2 : count - walls;
    if (is_cut) parts.lid = wall;
    for (const auto& edge : relief.edges) {
        auto& rise = parts.rise.emplace_back();
        Vec3 up;
        for (std::size_t i = 0; i < edge.size(); ++i) {
            if (i + 1 < edge.size() && edge[i] != edge[i + 1]) {
                up = upwards(relief, wall + 1);
                wall += 2;
            }
            rise.push_back(up);
        }
    }
    return parts;
}

} // namespace touchmark::viewport
