// SPDX-License-Identifier: MIT
#include "app/panels/silhouette.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace touchmark::panels {
namespace {

constexpr int widest = 4096;

struct Point {
    double x = 0, y = 0;
};

/// Spans through the pixels' middles, each end rounded outward so that thin walls do not vanish.
void fill(QImage& image, const std::array<Point, 3>& corners) {
    const auto [low, high] = std::minmax({corners[0].y, corners[1].y, corners[2].y});
    const int first = std::clamp(static_cast<int>(std::floor(low)), 0, image.height() - 1);
    const int last = std::clamp(static_cast<int>(std::floor(high)), 0, image.height() - 1);
    for (int row = first; row <= last; ++row) {
        const double y = std::clamp(row + 0.5, low, high);
        double left = 1e300, right = -1e300;
        for (std::size_t i = 0; i < 3; ++i) {
            const Point a = corners[i], b = corners[(i + 1) % 3];
            if ((a.y < y && b.y < y) || (a.y > y && b.y > y)) continue;
            if (a.y == b.y) {
                left = std::min({left, a.x, b.x});
                right = std::max({right, a.x, b.x});
                continue;
            }
            const double x = a.x + (b.x - a.x) * (y - a.y) / (b.y - a.y);
            left = std::min(left, x);
            right = std::max(right, x);
        }
        if (left > right) continue;
        const int from = std::clamp(static_cast<int>(std::floor(left)), 0, image.width() - 1);
        const int to = std::clamp(static_cast<int>(std::ceil(right)) - 1, from, image.width() - 1);
        std::fill(image.scanLine(row) + from, image.scanLine(row) + to + 1, uchar{255});
    }
}

} // namespace

Silhouette silhouette_of(const plate::Meshes& meshes, const plate::Placement& placement, int pixel_height,
                         const Progress& progress) {
    Box3 box;
    for (const auto& mesh : meshes)
        for (const auto& p : mesh->points)
            box.add(placement({p[0], p[1], p[2]}));
    Silhouette made;
    if (box.empty() || pixel_height < 1) return made;
    made.left_mm = box.low.x;
    made.width_mm = std::max(box.size().x, 1e-3);
    made.height_mm = std::max(box.size().z, 1e-3);
    const double scale = std::min(pixel_height / made.height_mm, widest / made.width_mm);
    made.coverage = QImage(std::max(1, static_cast<int>(std::lround(made.width_mm * scale))),
                           std::max(1, static_cast<int>(std::lround(made.height_mm * scale))), QImage::Format_Alpha8);
    made.coverage.fill(0);
    for (const auto& mesh : meshes) {
        if (progress.cancelled()) return {};
        std::vector<Point> flat;
        flat.reserve(mesh->points.size());
        for (const auto& p : mesh->points) {
            const Vec3 on_plate = placement({p[0], p[1], p[2]});
            flat.push_back({(on_plate.x - box.low.x) * scale, (box.high.z - on_plate.z) * scale});
        }
        for (const auto& t : mesh->triangles)
            fill(made.coverage, {flat[t[0]], flat[t[1]], flat[t[2]]});
    }
    return made;
}

} // namespace touchmark::panels
