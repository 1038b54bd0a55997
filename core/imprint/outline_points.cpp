// SPDX-License-Identifier: MIT
#include "core/imprint/outline_points.h"

#include "core/surface/segment_tree.h"

#include <algorithm>
#include <cmath>

namespace touchmark::imprint {

std::vector<Vec2> along_outline(std::span<const geometry::Polygon> polygons, double spacing) {
    std::vector<Vec2> points;
    for (const geometry::Polygon& polygon : polygons)
        for (std::size_t i = 0; i < polygon.size(); ++i) {
            const Vec2 a = polygon[i], b = polygon[(i + 1) % polygon.size()];
            const int parts = std::max(1, static_cast<int>(std::ceil(distance(a, b) / spacing)));
            for (int k = 0; k < parts; ++k)
                points.push_back(a + (b - a) * (static_cast<double>(k) / parts));
        }
    return points;
}

std::vector<Vec2> within_outline(std::span<const geometry::Polygon> polygons, double spacing) {
    const surface::SegmentTree tree(polygons);
    Box2 box;
    for (const geometry::Polygon& polygon : polygons)
        for (const Vec2 p : polygon)
            box.add(p);
    constexpr double most = 4000;
    const double step = std::max(spacing, std::sqrt(box.width() * box.height() / most));
    std::vector<Vec2> points;
    for (double y = box.low.y + step / 2; y < box.high.y; y += step) {
        std::vector<double> crossings;
        tree.visit({{box.low.x, y}, {box.high.x, y}}, [&](const surface::SegmentTree::Edge& edge) {
            if ((edge.a.y > y) != (edge.b.y > y))
                crossings.push_back(edge.a.x + (edge.b.x - edge.a.x) * (y - edge.a.y) / (edge.b.y - edge.a.y));
            return true;
        });
        std::ranges::sort(crossings);
        for (std::size_t i = 0; i + 1 < crossings.size(); i += 2)
            for (double x = crossings[i] + step / 2; x < crossings[i + 1]; x += step)
                points.push_back({x, y});
    }
    return points;
}

std::vector<Vec2> points_of(const geometry::Outline& outline, double spacing) {
    const std::vector<geometry::Polygon> polygons = geometry::flattened(outline, 5e-3);
    std::vector<Vec2> points = along_outline(polygons, spacing);
    const std::vector<Vec2> inner = within_outline(polygons, spacing);
    points.insert(points.end(), inner.begin(), inner.end());
    return points;
}

} // namespace touchmark::imprint
