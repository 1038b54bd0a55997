// SPDX-License-Identifier: MIT
#include "core/surface/margin.h"

#include <algorithm>
#include <cmath>
#include <numbers>

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

/// The convex hull (Andrew's monotone chain). A mark has thousands of edges, its hull some dozens, and what clears the
/// hull clears the mark; against a convex stretch of the edge the two are equally far.
geometry::Outline hull_of(const geometry::Outline& outline) {
    std::vector<Vec2> points;
    for (const geometry::Region& region : outline.regions)
        for (const Vec2 p : geometry::flattened(region.outer, 1e-3))
            points.push_back(p);
    std::ranges::sort(points, [](Vec2 a, Vec2 b) { return a.x < b.x || (a.x == b.x && a.y < b.y); });
    std::vector<Vec2> hull;
    const auto extend = [&hull](Vec2 p, std::size_t least) {
        while (hull.size() >= least + 2 && cross(hull.back() - hull[hull.size() - 2], p - hull.back()) <= 0)
            hull.pop_back();
        hull.push_back(p);
    };
    for (const Vec2 p : points)
        extend(p, 0);
    const std::size_t lower = hull.size() - 1;
    for (auto p = points.rbegin() + 1; p != points.rend(); ++p)
        extend(*p, lower);
    hull.pop_back();
    return {{geometry::Region{geometry::contour_of(hull), {}}}};
}

/// Places for the mark's middle along one axis of the face, no closer than half the mark: from one to the next its
/// holes are felt.
std::vector<double> places(double low, double high, double size) {
    constexpr int most = 5;
    const double first = low + size / 2, range = std::max(0.0, high - size / 2 - first);
    const int count = std::clamp(static_cast<int>(2 * range / size) + 1, 1, most);
    std::vector<double> at;
    for (int i = 0; i < count; ++i)
        at.push_back(first + range * (i + 0.5) / count);
    return at;
}

/// Where to begin, the nearest first: the middle of the largest free rectangle and places all over the face.
std::vector<Vec2> starts_for(const MarginFinder& finder) {
    const Box2 room = finder.room_bounds(), mark = finder.mark_bounds();
    std::vector<Vec2> starts{mark.centre() * -1};
    for (const double x : places(room.low.x, room.high.x, mark.width()))
        for (const double y : places(room.low.y, room.high.y, mark.height()))
            starts.push_back(Vec2{x, y} - mark.centre());
    std::ranges::sort(starts, {}, [](Vec2 start) { return length(start); });
    return starts;
}

/// How far in this direction the first good place is. The margin changes by no more than the mark moves, so what lacks
/// can be stepped over.
std::optional<double> first_good(const MarginFinder& finder, Vec2 direction, double wanted, double limit) {
    double reach = 0;
    for (int i = 0; i < 64 && reach < limit; ++i) {
        const double lack = wanted - finder.at(direction * reach).distance;
        if (lack <= 1e-6) return reach;
        reach += lack + 1e-7;
    }
    return std::nullopt;
}

/// In whatever direction it is nearest: all round first, then closer to the best.
std::optional<Vec2> nearest_good(const MarginFinder& finder, double wanted, double limit) {
    constexpr int around = 16;
    const auto towards = [](double angle) { return Vec2{std::cos(angle), std::sin(angle)}; };
    double step = 2 * std::numbers::pi / around, best_angle = 0;
    std::optional<double> best;
    const auto offer = [&](double angle) {
        const auto reach = first_good(finder, towards(angle), wanted, best.value_or(limit));
        if (reach && (!best || *reach < *best)) best = reach, best_angle = angle;
    };
    for (int i = 0; i < around; ++i)
        offer(i * step);
    for (int i = 0; i < 4 && best; ++i) {
        step /= 2;
        const double middle = best_angle;
        offer(middle - step);
        offer(middle + step);
    }
    if (!best) return std::nullopt;
    return towards(best_angle) * *best;
}

std::optional<Vec2> search(const MarginFinder& finder, bool holes, double wanted) {
    std::optional<Vec2> best = settle(finder, {}, wanted);
    if (best && (!holes || length(*best) == 0)) return best;
    const Box2 room = finder.room_bounds();
    const double limit = best ? length(*best) : std::hypot(room.width(), room.height());
    if (const std::optional<Vec2> found = nearest_good(finder, wanted, limit)) best = found;
    if (best) return best;
    // Not in a straight line: round holes and corners, from places all over the face.
    for (const Vec2 start : starts_for(finder)) {
        if (best && length(start) > 1.5 * length(*best)) break;
        const std::optional<Vec2> found = settle(finder, start, wanted);
        if (!found) continue;
        const Vec2 shift = shortened(finder, *found, wanted);
        if (!best || length(shift) < length(*best)) best = shift;
    }
    return best;
}

/// Outer contours as coarse polygons, for what lies in a letter's counter is rarely an edge of the face.
constexpr double coarse = 0.02;
geometry::Outline silhouette_of(const geometry::Outline& outline) {
    geometry::Outline silhouette;
    for (const geometry::Region& region : outline.regions)
        silhouette.regions.push_back({geometry::contour_of(geometry::flattened(region.outer, coarse)), {}});
    return silhouette;
}

} // namespace

std::optional<Vec2> shift_inward(const FaceMap& map, const geometry::Outline& placed, double wanted) {
    if (placed.empty()) return std::nullopt;
    const MarginFinder hull(map.room(), hull_of(placed));
    const Box2 room = hull.room_bounds(), mark = hull.mark_bounds();
    if (mark.width() + 2 * wanted > room.width() + 1e-6 || mark.height() + 2 * wanted > room.height() + 1e-6)
        return std::nullopt;
    const bool holes = map.room().regions.size() != 1 || !map.room().regions[0].holes.empty();
    std::optional<Vec2> best = search(hull, holes, wanted);
    if (best && length(*best) == 0) return best;
    // A hole or a corner of the face may fit between letters or beside a short line.
    const MarginFinder silhouette(map.room(), silhouette_of(placed));
    const std::optional<Vec2> closer = settle(silhouette, {}, wanted + coarse);
    if (closer && (!best || length(*closer) < length(*best))) best = closer;
    return best;
}

} // namespace touchmark::surface
