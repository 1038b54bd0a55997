// SPDX-License-Identifier: MIT
#include "tests/core/geometry/invariants.h"

#include <polyclipping/clipper.hpp>

#include <cmath>

namespace touchmark::test {
namespace {

using geometry::Contour;
using geometry::Polygon;

struct Edge {
    Vec2 a, b;
    std::size_t contour, index;
};

double gap(Vec2 a, Vec2 b, Vec2 p) {
    const Vec2 u = b - a;
    const double t = std::clamp(dot(p - a, u) / dot(u, u), 0.0, 1.0);
    return distance(p, a + u * t);
}

bool meet(const Edge& e, const Edge& f) {
    const double s0 = cross(e.b - e.a, f.a - e.a), s1 = cross(e.b - e.a, f.b - e.a);
    const double t0 = cross(f.b - f.a, e.a - f.a), t1 = cross(f.b - f.a, e.b - f.a);
    if (s0 * s1 < 0 && t0 * t1 < 0) return true;
    return std::min({gap(e.a, e.b, f.a), gap(e.a, e.b, f.b), gap(f.a, f.b, e.a), gap(f.a, f.b, e.b)}) == 0;
}

/// Every pair of edges whose x ranges overlap.
std::string first_meeting(const std::vector<Polygon>& polygons) {
    std::vector<Edge> edges;
    for (std::size_t c = 0; c < polygons.size(); ++c)
        for (std::size_t i = 0; i < polygons[c].size(); ++i)
            edges.push_back({polygons[c][i], polygons[c][(i + 1) % polygons[c].size()], c, i});
    std::sort(edges.begin(), edges.end(),
              [](const Edge& e, const Edge& f) { return std::min(e.a.x, e.b.x) < std::min(f.a.x, f.b.x); });
    for (std::size_t i = 0; i < edges.size(); ++i) {
        const Edge& e = edges[i];
        for (std::size_t j = i + 1; j < edges.size(); ++j) {
            const Edge& f = edges[j];
            if (std::min(f.a.x, f.b.x) > std::max(e.a.x, e.b.x)) break;
            if (std::max(e.a.y, e.b.y) < std::min(f.a.y, f.b.y) || std::max(f.a.y, f.b.y) < std::min(e.a.y, e.b.y))
                continue;
            const std::size_t count = polygons[e.contour].size();
            if (e.contour == f.contour && ((e.index + 1) % count == f.index || (f.index + 1) % count == e.index)) {
                const Edge& first = (e.index + 1) % count == f.index ? e : f;
                const Edge& second = &first == &e ? f : e;
                if (count > 2 && gap(second.a, second.b, first.a) > 0 && gap(first.a, first.b, second.b) > 0) continue;
            } else if (!meet(e, f)) {
                continue;
            }
            return "edges of contours " + std::to_string(e.contour) + " and " + std::to_string(f.contour) +
                   " meet near " + std::to_string(f.a.x) + ", " + std::to_string(f.a.y);
        }
    }
    return {};
}

bool closed(const Contour& contour) {
    for (std::size_t i = 0; i < contour.segments.size(); ++i)
        if (!(contour.segments[i].end() == contour.segments[(i + 1) % contour.segments.size()].start())) return false;
    return !contour.segments.empty();
}

} // namespace

testing::AssertionResult is_valid(const geometry::Outline& outline, double flatness) {
    std::vector<Polygon> polygons;
    for (const geometry::Region& region : outline.regions) {
        if (!closed(region.outer)) return testing::AssertionFailure() << "an outer contour is open";
        if (area(region.outer) <= 0) return testing::AssertionFailure() << "an outer contour is clockwise";
        polygons.push_back(flattened(region.outer, flatness));
        const Polygon outer = polygons.back();
        const std::size_t first_hole = polygons.size();
        for (const Contour& hole : region.holes) {
            if (!closed(hole)) return testing::AssertionFailure() << "a hole is open";
            if (area(hole) >= 0) return testing::AssertionFailure() << "a hole is counter-clockwise";
            const Polygon polygon = flattened(hole, flatness);
            if (geometry::winding(outer, polygon[0]) != 1)
                return testing::AssertionFailure() << "a hole lies outside its region";
            for (std::size_t k = first_hole; k < polygons.size(); ++k)
                if (geometry::winding(polygons[k], polygon[0]) != 0)
                    return testing::AssertionFailure() << "a hole lies in another";
            polygons.push_back(polygon);
        }
    }
    if (const std::string where = first_meeting(polygons); !where.empty()) return testing::AssertionFailure() << where;
    // Nesting: just inside and outside every contour the winding is 1 and 0.
    for (const Polygon& polygon : polygons) {
        int sum = 0;
        for (const Polygon& other : polygons)
            if (&other != &polygon) sum += geometry::winding(other, polygon[0]);
        const int inside = geometry::area(polygon) > 0 ? sum + 1 : sum;
        if (inside != 1) return testing::AssertionFailure() << "material " << inside << " deep inside a contour";
    }
    return testing::AssertionSuccess();
}

double clipper_area(const std::vector<Contour>& contours, geometry::FillRule rule, double flatness) {
    namespace cl = ClipperLib;
    Box2 box;
    for (const Contour& contour : contours)
        box.add(bounds(contour));
    const double scale =
        5e8 / std::max({std::abs(box.low.x), std::abs(box.low.y), std::abs(box.high.x), std::abs(box.high.y)});
    cl::Paths paths, result;
    for (const Contour& contour : contours) {
        cl::Path path;
        for (const Vec2 p : flattened(contour, flatness))
            path.push_back(
                {static_cast<cl::cInt>(std::llround(p.x * scale)), static_cast<cl::cInt>(std::llround(p.y * scale))});
        paths.push_back(path);
    }
    cl::SimplifyPolygons(paths, result, rule == geometry::FillRule::nonzero ? cl::pftNonZero : cl::pftEvenOdd);
    double sum = 0;
    for (const cl::Path& path : result)
        sum += cl::Area(path);
    return sum / scale / scale;
}

Contour rectangle(Vec2 low, Vec2 high) {
    const std::array corners{low, Vec2{high.x, low.y}, high, Vec2{low.x, high.y}};
    return geometry::contour_of(corners);
}

Contour circle(Vec2 c, double radius) {
    const double r = std::abs(radius), k = 4.0 / 3.0 * (std::numbers::sqrt2 - 1) * r;
    const Vec2 east = c + Vec2{r, 0}, north = c + Vec2{0, r}, west = c + Vec2{-r, 0}, south = c + Vec2{0, -r};
    Contour contour;
    contour.segments = {geometry::Segment::cubic(east, east + Vec2{0, k}, north + Vec2{k, 0}, north),
                        geometry::Segment::cubic(north, north + Vec2{-k, 0}, west + Vec2{0, k}, west),
                        geometry::Segment::cubic(west, west + Vec2{0, -k}, south + Vec2{-k, 0}, south),
                        geometry::Segment::cubic(south, south + Vec2{k, 0}, east + Vec2{0, -k}, east)};
    return radius < 0 ? reversed(contour) : contour;
}

Contour polygon_circle(Vec2 centre, double radius, int sides) {
    Polygon polygon;
    for (int i = 0; i < sides; ++i) {
        const double angle = 2 * std::numbers::pi * i / sides;
        polygon.push_back(centre + Vec2{radius * std::cos(angle), radius * std::sin(angle)});
    }
    return geometry::contour_of(polygon);
}

} // namespace touchmark::test
