// SPDX-License-Identifier: MIT
#include "core/geometry/outline.h"

#include "core/geometry/bezier.h"

namespace touchmark::geometry {
namespace {

/// Arc length by Gauss–Legendre on pieces short enough for it.
double arc_length(const Segment& segment) {
    if (segment.degree == 1) return distance(segment.start(), segment.end());
    const int pieces = 4 * pieces_within(segment, 0.01 * std::max(control_length(segment), 1e-12));
    static const double offset = std::sqrt(0.6) / 2;
    double sum = 0;
    for (int i = 0; i < pieces; ++i)
        for (const auto& [at, weight] : {std::pair{0.5 - offset, 5.0}, {0.5, 8.0}, {0.5 + offset, 5.0}})
            sum += weight * length(derivative_at(segment, (i + at) / pieces));
    return sum / (18 * pieces);
}

template <class Visit> void for_each_contour(const Outline& outline, Visit&& visit) {
    for (const Region& region : outline.regions) {
        visit(region.outer);
        for (const Contour& hole : region.holes)
            visit(hole);
    }
}

} // namespace

double area(const Outline& outline) {
    double sum = 0;
    for_each_contour(outline, [&](const Contour& contour) { sum += area(contour); });
    return sum;
}

double perimeter(const Outline& outline) {
    double sum = 0;
    for_each_contour(outline, [&](const Contour& contour) {
        for (const Segment& segment : contour.segments)
            sum += arc_length(segment);
    });
    return sum;
}

Box2 bounds(const Outline& outline) {
    Box2 box;
    for (const Region& region : outline.regions)
        box.add(bounds(region.outer));
    return box;
}

Outline transformed(const Outline& outline, const Affine& map) {
    Outline result;
    result.regions.reserve(outline.regions.size());
    for (const Region& region : outline.regions) {
        Region moved{transformed(region.outer, map), {}};
        moved.holes.reserve(region.holes.size());
        for (const Contour& hole : region.holes)
            moved.holes.push_back(transformed(hole, map));
        result.regions.push_back(std::move(moved));
    }
    return result;
}

void append_contours(const Outline& outline, std::vector<Contour>& to) {
    for_each_contour(outline, [&](const Contour& contour) { to.push_back(contour); });
}

std::vector<Polygon> flattened(const Outline& outline, double tolerance) {
    std::vector<Polygon> polygons;
    for_each_contour(outline, [&](const Contour& contour) { polygons.push_back(flattened(contour, tolerance)); });
    return polygons;
}

bool contains(const Outline& outline, Vec2 p) {
    int sum = 0;
    for_each_contour(outline, [&](const Contour& contour) { sum += winding(contour, p); });
    return sum != 0;
}

void add(Digester& digester, const Outline& outline) {
    auto contour = [&](const Contour& c) {
        digester.add(c.segments.size());
        for (const Segment& segment : c.segments) {
            digester.add(segment.degree);
            for (int i = 0; i < segment.degree; ++i) {
                const Vec2 p = segment.points[static_cast<std::size_t>(i)];
                digester.add(p.x).add(p.y);
            }
        }
    };
    digester.add(outline.regions.size());
    for (const Region& region : outline.regions) {
        contour(region.outer);
        digester.add(region.holes.size());
        for (const Contour& hole : region.holes)
            contour(hole);
    }
}

} // namespace touchmark::geometry
