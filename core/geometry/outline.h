// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/digest.h"
#include "core/base/result.h"
#include "core/geometry/contour.h"

namespace touchmark::geometry {

/// One connected area: a counter-clockwise outer contour and clockwise holes strictly inside it.
struct Region {
    Contour outer;
    std::vector<Contour> holes;

    friend bool operator==(const Region&, const Region&) = default;
};

/// What a mark covers, in mm, y up. Regions neither touch nor overlap each other; a region may lie in another's hole.
/// Filled once and for all: there is no fill rule left to apply.
struct Outline {
    std::vector<Region> regions;

    [[nodiscard]] bool empty() const { return regions.empty(); }
    friend bool operator==(const Outline&, const Outline&) = default;
};

enum class FillRule { nonzero, evenodd };

struct NormaliseOptions {
    FillRule fill = FillRule::nonzero;
    /// Contours closer than this (mm) count as touching and are joined; edges shorter are dropped.
    double resolution = 1e-5;
    /// Where curves cross each other their crossing pieces may be replaced by polylines this close (mm). Of large
    /// drawings no finer than 2e-6 of their extent, and the resolution 1e-9 of it.
    double tolerance = 2e-4;
};

/// Any closed contours → an Outline. Contours that cross nothing keep their curves exactly; where contours cross or
/// overlap themselves or each other they are united (curves kept outside the crossings as far as possible). Contours
/// that touch at a point or along an edge are separated or joined so that the result obeys Outline's invariants.
/// Slivers below the resolution vanish. Errors: "geometry.not_finite", "geometry.too_complex".
[[nodiscard]] Result<Outline> outline_from(std::vector<Contour> contours, const NormaliseOptions& options = {});

[[nodiscard]] double area(const Outline& outline);
[[nodiscard]] double perimeter(const Outline& outline);
[[nodiscard]] Box2 bounds(const Outline& outline);
/// REQUIRES: `map` does not mirror (positive determinant).
[[nodiscard]] Outline transformed(const Outline& outline, const Affine& map);
/// All contours of all regions, each region's outer one first.
void append_contours(const Outline& outline, std::vector<Contour>& to);
/// The same as polygons, outer counter-clockwise, holes clockwise.
[[nodiscard]] std::vector<Polygon> flattened(const Outline& outline, double tolerance);
[[nodiscard]] bool contains(const Outline& outline, Vec2 p);

/// Grown by `distance` mm (thinned when negative), corners rounded when grown; polygons within `tolerance`.
[[nodiscard]] Outline grown(const Outline& outline, double distance, double tolerance = 2e-3);
[[nodiscard]] Outline united(const Outline& a, const Outline& b, double tolerance = 2e-3);
[[nodiscard]] Outline intersection(const Outline& a, const Outline& b, double tolerance = 2e-3);
[[nodiscard]] Outline difference(const Outline& a, const Outline& b, double tolerance = 2e-3);

void add(Digester& digester, const Outline& outline);

} // namespace touchmark::geometry
