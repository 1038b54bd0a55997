// SPDX-License-Identifier: MIT
#include "core/surface/margin.h"

#include <cmath>

namespace touchmark::surface {
namespace {

/// Shifts t with normal · t ≥ least.
struct HalfPlane {
    Vec2 normal;
    double least = 0;
};

/// The point nearest to `start` that lies in all of them; two dimensions, so at most two of them hold it.
std::optional<Vec2> nearest_in(const std::vector<HalfPlane>& planes, Vec2 start) {
    const auto fits = [&](Vec2 t) {
        for (const HalfPlane& plane : planes)
            if (dot(plane.normal, t) < plane.least - 1e-9) return false;
        return true;
    };
    std::optional<Vec2> best;
    const auto offer = [&](Vec2 t) {
        if ((!best || distance(t, start) < distance(*best, start)) && fits(t)) best = t;
    };
    offer(start);
    for (std::size_t i = 0; i < planes.size(); ++i) {
        offer(start + planes[i].normal * (planes[i].least - dot(planes[i].normal, start)));
        for (std::size_t j = 0; j < i; ++j) {
            const Vec2 a = planes[i].normal, b = planes[j].normal;
            const double across = cross(a, b);
            if (std::abs(across) < 1e-9) continue;
            offer({(planes[i].least * b.y - planes[j].least * a.y) / across,
                   (planes[j].least * a.x - planes[i].least * b.x) / across});
        }
    }
    return best;
}

/// Cuts off, one contact after the other, the shifts that leave too little margin, until the nearest one left is good.
/// Exact where the face is convex; at holes a contact only says which way it goes from here.
std::optional<Vec2> settle(const MarginFinder& finder, Vec2 start, double wanted) {
    constexpr int most_contacts = 48;
    std::vector<HalfPlane> planes;
    Vec2 shift = start;
    for (int i = 0; i < most_contacts; ++i) {
        const Margin margin = finder.at(shift);
        if (margin.distance >= wanted - 1e-6) return shift;
        Vec2 away = margin.distance < 0 ? margin.on_edge - margin.on_mark : margin.on_mark - margin.on_edge;
        if (length(away) < 1e-9) away = finder.room_bounds().centre() - finder.mark_bounds().centre() - shift;
        if (length(away) < 1e-9) return std::nullopt;
        const Vec2 normal = away * (1 / length(away));
        // A hair more than is wanted, or rounding keeps it from ever being enough.
        planes.push_back({normal, dot(normal, shift) + wanted - margin.distance + 1e-7});
        const std::optional<Vec2> next = nearest_in(planes, start);
        if (!next) return std::nullopt;
        shift = *next;
    }
    return std::nullopt;
}

/// As far back towards no shift at all as the margin allows.
Vec2 shortened(const MarginFinder& finder, Vec2 shift, double wanted) {
    double good = 1, bad = 0;
    for (int i = 0; i < 12; ++i) {
        const double middle = (good + bad) / 2;
        (finder.at(shift * middle).distance >= wanted - 1e-6 ? good : bad) = middle;
    }
    return shift * good;
}

} // namespace

std::optional<Vec2> shift_inward(const FaceMap& map, const geometry::Outline& placed, double wanted) {
    if (placed.empty()) return std::nullopt;
    const MarginFinder finder(map.room(), placed);
    const Box2 room = finder.room_bounds(), mark = finder.mark_bounds();
    if (mark.width() + 2 * wanted > room.width() + 1e-6 || mark.height() + 2 * wanted > room.height() + 1e-6)
        return std::nullopt;
    std::optional<Vec2> best = settle(finder, {}, wanted);
    if (best && map.room().regions.size() == 1 && map.room().regions[0].holes.empty()) return best;
    // Other ways round a hole: from the middle of the largest free rectangle, and from all over the face.
    std::vector<Vec2> starts{mark.centre() * -1};
    constexpr int across = 5;
    for (int i = 0; i < across; ++i)
        for (int j = 0; j < across; ++j)
            starts.push_back(
                Vec2{room.low.x + room.width() * (i + 0.5) / across, room.low.y + room.height() * (j + 0.5) / across} -
                mark.centre());
    for (const Vec2 start : starts) {
        if (best && length(start) > length(*best) + std::hypot(room.width(), room.height()) / across) continue;
        const std::optional<Vec2> found = settle(finder, start, wanted);
        if (!found) continue;
        const Vec2 shift = shortened(finder, *found, wanted);
        if (!best || length(shift) < length(*best)) best = shift;
    }
    return best;
}

} // namespace touchmark::surface
