// SPDX-License-Identifier: MIT
#include "core/surface/margin.h"

#include <algorithm>
#include <cmath>

namespace touchmark::surface {
namespace {

constexpr double flat = 1e-3; // mm that a polygon may be off its curve

Box2 bounds_of(const std::vector<geometry::Polygon>& polygons) {
    Box2 box;
    for (const geometry::Polygon& polygon : polygons)
        for (const Vec2 p : polygon)
            box.add(p);
    return box;
}

/// How deep in what the tree's polygons bound (mm, negative outside). No two points' depths differ by more than the
/// distance between them.
double depth(const SegmentTree& tree, Vec2 p) {
    const double away = tree.nearest(p, 1e300).value().distance;
    return tree.inside(p) ? away : -away;
}

} // namespace

MarginFinder::MarginFinder(const geometry::Outline& room, const geometry::Outline& placed)
    : room_polygons_(geometry::flattened(room, flat)), mark_polygons_(geometry::flattened(placed, flat)),
      room_(room_polygons_), mark_(mark_polygons_), room_bounds_(bounds_of(room_polygons_)),
      mark_bounds_(bounds_of(mark_polygons_)) {}

bool MarginFinder::crosses(Vec2 shift) const {
    for (const SegmentTree::Edge& edge : room_.edges()) {
        const Vec2 a = edge.a - shift, b = edge.b - shift;
        Box2 box;
        box.add(a);
        box.add(b);
        if (!box.meets(mark_bounds_)) continue;
        if (!mark_.visit(box, [&](const SegmentTree::Edge& own) { return !meeting(own.a, own.b, a, b); })) return true;
    }
    return false;
}

Margin MarginFinder::worst_outside(Vec2 shift) const {
    Margin worst;
    mark_.descend(
        [&](const Box2& box) {
            const double reach = std::hypot(box.width(), box.height()) / 2;
            return depth(room_, box.centre() + shift) - reach < worst.distance;
        },
        [&](const SegmentTree::Edge& own) {
            const Vec2 p = own.a + shift;
            if (room_.any_nearer(p, -worst.distance) || room_.inside(p)) return;
            if (const auto edge = room_.nearest(p, 1e300); edge && -edge->distance < worst.distance)
                worst = {-edge->distance, p, edge->at};
        });
    // Corners of the face in the mark and, where they are far apart, points between.
    const double mark_size = std::hypot(mark_bounds_.width(), mark_bounds_.height());
    const double spacing = std::max(0.05, mark_size / 400);
    const Box2 within{mark_bounds_.low + shift, mark_bounds_.high + shift};
    room_.descend(
        [&](const Box2& box) {
            if (!box.meets(within)) return false;
            const Vec2 centre = box.centre() - shift;
            const double reach = std::hypot(box.width(), box.height()) / 2;
            return reach > mark_size || depth(mark_, centre) + reach > -worst.distance;
        },
        [&](const SegmentTree::Edge& edge) {
            const double size = distance(edge.a, edge.b);
            const int parts = std::clamp(static_cast<int>(size / spacing), 1, 400);
            for (int i = 0; i < parts;) {
                const Vec2 p = edge.a + (edge.b - edge.a) * (static_cast<double>(i) / parts);
                const double in = depth(mark_, p - shift);
                if (-in < worst.distance) worst = {-in, mark_.nearest(p - shift, 1e300).value().at + shift, p};
                // On to the next that may lie deeper.
                i += std::max(1, static_cast<int>((-worst.distance - in) * parts / std::max(size, 1e-9)));
            }
        });
    return worst;
}

Margin MarginFinder::least_inside(Vec2 shift) const {
    Margin least{1e300, {}, {}};
    for (const SegmentTree::Edge& own : mark_.edges())
        if (const auto edge = room_.nearest(own.a + shift, least.distance))
            least = {edge->distance, own.a + shift, edge->at};
    for (const SegmentTree::Edge& edge : room_.edges())
        if (const auto own = mark_.nearest(edge.a - shift, least.distance))
            least = {own->distance, own->at + shift, edge.a};
    return least;
}

Margin MarginFinder::at(Vec2 shift) const {
    if (room_.empty() || mark_.empty()) return {};
    bool leaves = crosses(shift);
    for (std::size_t i = 0; i < mark_polygons_.size() && !leaves; ++i)
        leaves = !mark_polygons_[i].empty() && !room_.inside(mark_polygons_[i][0] + shift);
    // A hole of the face may lie whole inside a stroke.
    for (std::size_t i = 0; i < room_polygons_.size() && !leaves; ++i)
        leaves = !room_polygons_[i].empty() && mark_.inside(room_polygons_[i][0] - shift);
    return leaves ? worst_outside(shift) : least_inside(shift);
}

Margin margin(const FaceMap& map, const geometry::Outline& placed) {
    return MarginFinder(map.room(), placed).at({});
}

geometry::Affine placement(Vec2 at, Degrees turn) {
    return geometry::Affine::translation(at) * geometry::Affine::rotation(turn.radians());
}

} // namespace touchmark::surface
