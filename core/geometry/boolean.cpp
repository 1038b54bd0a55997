// SPDX-License-Identifier: MIT
#include "core/geometry/lattice.h"
#include "core/geometry/outline.h"

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
    return {box.low - Vec2{margin, margin}, box.high + Vec2{margin, margin}};
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

} // namespace

Outline grown(const Outline& outline, double distance, double tolerance) {
    if (outline.empty() || distance == 0) return outline;
    const Lattice lattice(around(outline, {}, std::abs(distance) * 2));
    // Half of the tolerance for the flattening, half for the arcs.
    cl::ClipperOffset offset(2.0, std::max(tolerance / 2 * lattice.scale(), 0.25));
    offset.AddPaths(paths_of(outline, lattice, tolerance / 2), cl::jtRound, cl::etClosedPolygon);
    cl::Paths result;
    offset.Execute(result, distance * lattice.scale());
    return outline_of(result, lattice);
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
