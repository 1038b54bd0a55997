// SPDX-License-Identifier: MIT
#include "core/imprint/overlap.h"

#include "core/surface/segment_tree.h"
#include "core/surface/unrolling.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace touchmark::imprint {
namespace {

constexpr double flat = 1e-3;
constexpr double touching = 5e-3; // mm, the room that direct editing wants

struct Flat {
    std::vector<geometry::Polygon> polygons;
    surface::SegmentTree tree;
    Box2 box;

    explicit Flat(const geometry::Outline& outline) : Flat(geometry::flattened(outline, flat)) {}
    explicit Flat(std::vector<geometry::Polygon> of) : polygons(std::move(of)), tree(polygons) {
        for (const geometry::Polygon& polygon : polygons)
            for (const Vec2 p : polygon)
                box.add(p);
        box = box.widened(touching);
    }
};

/// In the mm of the face's own map, in which marks laid about different points can be compared.
Flat on_face(const Footprint& mark) {
    std::vector<geometry::Polygon> polygons = geometry::flattened(mark.outline, flat);
    if (mark.map->chart())
        for (geometry::Polygon& polygon : polygons)
            for (Vec2& p : polygon)
                p = mark.map->on_face(p);
    return Flat(std::move(polygons));
}

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

/// The outline as it comes round again after whole turns.
geometry::Outline turned(const Footprint& mark, int turns) {
    geometry::Outline out;
    for (const geometry::Region& region : mark.outline.regions)
        for (const geometry::Polygon& polygon : geometry::flattened(geometry::Outline{{region}}, flat)) {
            geometry::Polygon moved;
            for (const Vec2 p : polygon)
                moved.push_back(mark.map->unrolling()->turned(p, turns));
            out.regions.push_back({geometry::contour_of(moved), {}});
        }
    return out;
}

std::unexpected<Error> too_long(const Footprint& mark) {
    return fail("imprint.overlap", "\"" + mark.name + "\" goes more than once round its face and meets itself.",
                "Make it shorter or turn it.");
}

/// The angles about the axis that the outline covers, with a little room.
struct Range {
    static constexpr double room = 1e-2;
    double low = 1e300, high = -1e300;

    explicit Range(const Footprint& mark, const Flat& shape) {
        for (const geometry::Polygon& polygon : shape.polygons)
            for (const Vec2 p : polygon) {
                const double u = mark.map->unrolling()->parameters(p).x;
                low = std::min(low, u - room);
                high = std::max(high, u + room);
            }
    }
};

/// Whether the first meets the second, or itself, after some turns round the axis.
bool meet_round(const Footprint& a, const Flat& flat_a, const Footprint& b, const Flat& flat_b) {
    const surface::Unrolling* round = a.map->unrolling();
    if (!round || !round->closed) return false;
    constexpr double turn = 2 * std::numbers::pi;
    const Range range_a(a, flat_a), range_b(b, flat_b);
    const int first = static_cast<int>(std::ceil((range_b.low - range_a.high) / turn)),
              last = static_cast<int>(std::floor((range_b.high - range_a.low) / turn));
    for (int turns = first; turns <= last; ++turns)
        if (turns != 0 && meet(Flat(turned(a, turns)), flat_b)) return true;
    return false;
}

/// On a cylinder the angle is linear in the place, so the box tells how much of a turn the outline can cover.
bool may_meet_itself(const Footprint& mark) {
    const surface::Unrolling* round = mark.map->unrolling();
    if (!round || !round->closed) return false;
    if (round->sine != 0) return true;
    const Box2 box = geometry::bounds(mark.outline);
    double low = 1e300, high = -1e300;
    for (const Vec2 corner : {box.low, box.high, Vec2{box.low.x, box.high.y}, Vec2{box.high.x, box.low.y}}) {
        const double u = round->parameters(corner).x;
        low = std::min(low, u);
        high = std::max(high, u);
    }
    return high - low > 2 * std::numbers::pi - 2 * Range::room;
}

/// Marks that are laid from different faces of one surface are compared in the second's mm.
bool meet_on_faces(const Footprint& a, const Flat& flat_a, const Footprint& b, const Flat& flat_b) {
    if (a.map->face() == b.map->face()) return meet(flat_a, flat_b) || meet_round(a, flat_a, b, flat_b);
    if (!surface::share_a_face(*a.map, *b.map)) return false;
    Footprint carried = b;
    carried.outline = {};
    for (const geometry::Polygon& polygon : flat_a.polygons) {
        geometry::Polygon moved;
        const Vec2* last = nullptr;
        for (const Vec2 p : polygon) {
            Vec2 at = b.map->locate(a.map->point(p));
            if (const auto* round = b.map->unrolling(); last && round && round->closed)
                for (const int turns : {-1, 1}) // the outline goes on where the unrolling ends
                    if (const Vec2 other = round->turned(at, turns); distance(other, *last) < distance(at, *last))
                        at = other;
            moved.push_back(at);
            last = &moved.back();
        }
        carried.outline.regions.push_back({geometry::contour_of(moved), {}});
    }
    const Flat flat_c(carried.outline);
    return meet(flat_c, flat_b) || meet_round(carried, flat_c, b, flat_b);
}

} // namespace

Status apart(std::span<const Footprint> marks) {
    if (marks.size() == 1 && !may_meet_itself(marks[0])) return {};
    std::vector<Flat> flats;
    flats.reserve(marks.size());
    for (const Footprint& mark : marks)
        flats.push_back(on_face(mark));
    for (std::size_t i = 0; i < marks.size(); ++i) {
        if (meet_round(marks[i], flats[i], marks[i], flats[i])) return too_long(marks[i]);
        for (std::size_t j = 0; j < i; ++j)
            if (meet_on_faces(marks[i], flats[i], marks[j], flats[j]))
                return fail("imprint.overlap",
                            "The marks \"" + marks[j].name + "\" and \"" + marks[i].name + "\" overlap or touch.",
                            "Move one of them away.");
    }
    return {};
}

} // namespace touchmark::imprint
