// SPDX-License-Identifier: MIT
#include "core/imprint/overlap.h"

#include "core/surface/segment_tree.h"

#include <algorithm>

namespace touchmark::imprint {
namespace {

constexpr double flat = 1e-3;
constexpr double touching = 5e-3; // mm, the room that direct editing wants

struct Flat {
    std::vector<geometry::Polygon> polygons;
    surface::SegmentTree tree;
    Box2 box;

    explicit Flat(const geometry::Outline& outline) : polygons(geometry::flattened(outline, flat)), tree(polygons) {
        for (const geometry::Polygon& polygon : polygons)
            for (const Vec2 p : polygon)
                box.add(p);
        box.low = box.low - Vec2{touching, touching};
        box.high = box.high + Vec2{touching, touching};
    }
};

bool reaches_into(const Flat& a, const Flat& b) {
    for (const geometry::Polygon& polygon : a.polygons)
        if (!polygon.empty() && b.tree.inside(polygon[0])) return true;
    return false;
}

bool meet(const Flat& a, const Flat& b) {
    if (!a.box.meets(b.box)) return false;
    if (reaches_into(a, b) || reaches_into(b, a)) return true;
    for (const surface::SegmentTree::Edge& own : a.tree.edges()) {
        Box2 box{{std::min(own.a.x, own.b.x) - touching, std::min(own.a.y, own.b.y) - touching},
                 {std::max(own.a.x, own.b.x) + touching, std::max(own.a.y, own.b.y) + touching}};
        const bool clear = b.tree.visit(box, [&](const surface::SegmentTree::Edge& edge) {
            return !surface::meeting(own.a, own.b, edge.a, edge.b) &&
                   distance(surface::nearest_on(edge.a, edge.b, own.a), own.a) >= touching &&
                   distance(surface::nearest_on(own.a, own.b, edge.a), edge.a) >= touching;
        });
        if (!clear) return true;
    }
    return false;
}

} // namespace

Status apart(std::span<const Footprint> marks) {
    std::vector<Flat> flats;
    for (const Footprint& mark : marks)
        flats.emplace_back(mark.outline);
    for (std::size_t i = 0; i < marks.size(); ++i)
        for (std::size_t j = 0; j < i; ++j)
            if (marks[i].map->face() == marks[j].map->face() && meet(flats[i], flats[j]))
                return fail("imprint.overlap",
                            "The marks \"" + marks[j].name + "\" and \"" + marks[i].name + "\" overlap or touch.",
                            "Move one of them away.");
    return {};
}

} // namespace touchmark::imprint
