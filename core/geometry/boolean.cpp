// SPDX-License-Identifier: MIT
#include "core/base/parallel.h"
#include "core/geometry/lattice.h"
#include "core/geometry/outline.h"

#include <algorithm>
#include <iterator>
#include <numeric>

namespace touchmark::geometry {
namespace {

namespace cl = ClipperLib;

cl::Paths paths_of(const Outline& outline, const Lattice& lattice, double tolerance) {
    cl::Paths paths;
    for (const Polygon& polygon : flattened(outline, tolerance)) {
        cl::Path path;
        for (const Vec2 p : polygon)
            path.push_back(lattice.to_lattice(p));
        paths.push_back(std::move(path));
    }
    return paths;
}

/// The clipper's polygons may touch at points and hold specks: the normaliser settles both.
Outline outline_of(const cl::Paths& paths, const Lattice& lattice) {
    std::vector<Contour> contours;
    for (const cl::Path& path : paths) {
        Polygon polygon;
        for (const cl::IntPoint& p : path)
            polygon.push_back(lattice.to_plane(p));
        contours.push_back(contour_of(polygon));
    }
    return outline_from(std::move(contours)).value_or(Outline{});
}

Box2 around(const Outline& a, const Outline& b, double margin) {
    Box2 box = bounds(a);
    box.add(bounds(b));
    if (box.empty()) return {{0, 0}, {1, 1}};
    return box.widened(margin);
}

Outline clipped(cl::ClipType type, const Outline& a, const Outline& b, double tolerance) {
    const Lattice lattice(around(a, b, 1));
    cl::Clipper clipper;
    clipper.AddPaths(paths_of(a, lattice, tolerance), cl::ptSubject, true);
    clipper.AddPaths(paths_of(b, lattice, tolerance), cl::ptClip, true);
    cl::Paths result;
    clipper.Execute(type, result, cl::pftNonZero, cl::pftNonZero);
    return outline_of(result, lattice);
}

/// Regions whose boxes, grown so, meet one another, in order; what lies apart has nothing to do with each other.
std::vector<Outline> groups_of(const Outline& outline, double grown_by) {
    std::vector<Box2> boxes;
    for (const Region& region : outline.regions)
        boxes.push_back(bounds(region.outer).widened(grown_by));
    std::vector<std::size_t> by_left(boxes.size());
    std::iota(by_left.begin(), by_left.end(), 0);
    std::ranges::sort(by_left, {}, [&](std::size_t i) { return boxes[i].low.x; });
    std::vector<std::size_t> first(boxes.size()); // of its group
    std::iota(first.begin(), first.end(), 0);
    const auto root = [&](std::size_t i) {
        while (first[i] != i)
            i = first[i] = first[first[i]];
        return i;
    };
    for (std::size_t k = 0; k < by_left.size(); ++k)
        for (std::size_t next = k + 1; next < by_left.size() && boxes[by_left[next]].low.x <= boxes[by_left[k]].high.x;
             ++next)
            if (boxes[by_left[k]].meets(boxes[by_left[next]])) {
                const std::size_t a = root(by_left[k]), b = root(by_left[next]);
                first[std::max(a, b)] = std::min(a, b);
            }
    std::vector<Outline> groups;
    std::vector<std::size_t> group_of(boxes.size());
    for (std::size_t i = 0; i < boxes.size(); ++i) {
        if (root(i) == i) group_of[i] = groups.size(), groups.emplace_back();
        groups[group_of[root(i)]].regions.push_back(outline.regions[i]);
    }
    return groups;
}

} // namespace

Outline grown(const Outline& outline, double distance, double tolerance) {
    if (outline.empty() || distance == 0) return outline;
    const Lattice lattice(around(outline, {}, std::abs(distance) * 2));
    std::vector<Outline> groups = groups_of(outline, std::max(distance, 0.0) + tolerance);
    const auto grow = [&](std::size_t first, std::size_t last) {
        for (std::size_t i = first; i < last; ++i) {
            // Half of the tolerance for the flattening, half for the arcs.
            cl::ClipperOffset offset(2.0, std::max(tolerance / 2 * lattice.scale(), 0.25));
            offset.AddPaths(paths_of(groups[i], lattice, tolerance / 2), cl::jtRound, cl::etClosedPolygon);
            cl::Paths result;
            offset.Execute(result, distance * lattice.scale());
            groups[i] = outline_of(result, lattice);
        }
    };
    constexpr std::size_t worth_a_thread = 8; // letters
    in_stretches(groups.size(), worth_a_thread, grow);
    Outline all;
    for (Outline& group : groups)
        std::ranges::move(group.regions, std::back_inserter(all.regions));
    return all;
}

Outline united(const Outline& a, const Outline& b, double tolerance) {
    return clipped(cl::ctUnion, a, b, tolerance);
}
Outline intersection(const Outline& a, const Outline& b, double tolerance) {
    return clipped(cl::ctIntersection, a, b, tolerance);
}
Outline difference(const Outline& a, const Outline& b, double tolerance) {
    return clipped(cl::ctDifference, a, b, tolerance);
}

} // namespace touchmark::geometry
