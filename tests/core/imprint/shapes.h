// SPDX-License-Identifier: MIT
#pragma once

// Outlines and solids for the tests of marking, and checks that do not use the code under test.

#include "core/imprint/imprint.h"
#include "core/part/shape.h"

#include <TopoDS_Shape.hxx>

#include <array>

namespace touchmark::test {

/// The two that change the surface alone.
inline constexpr std::array relief_modes{Mode::engrave, Mode::raise};

[[nodiscard]] geometry::Contour rectangle(Vec2 low, Vec2 high);
/// Counter-clockwise; an "o" of cubic arcs.
[[nodiscard]] geometry::Contour circle(Vec2 centre, double radius);
[[nodiscard]] geometry::Region ring(Vec2 centre, double outer, double inner);
/// A letter of cap height 1 standing at (0, 0): 0 "I", 1 "O" (two arcs of cubics), 2 "B" (two counters), 3 "A"
/// (slanted, one counter), 4 "S" of quadratics, 5 "%"-like: three regions, one nested in another's counter.
[[nodiscard]] geometry::Outline letter(int which);
/// `count` letters on a grid that fills width × height about the origin.
[[nodiscard]] geometry::Outline lettering(int count, double width, double height);
/// The outer contours alone, and none that lies in another.
[[nodiscard]] geometry::Outline without_counters(const geometry::Outline& outline);
[[nodiscard]] geometry::Outline moved(const geometry::Outline& outline, Vec2 by, double turn_degrees = 0);

/// Green's theorem with four-point Gauss a segment: exact for polynomials up to degree 7, a cubic needs 5.
[[nodiscard]] double gauss_area(const geometry::Outline& outline);

[[nodiscard]] part::PartPtr part_of(const TopoDS_Shape& shape);
/// A file of the open set, STEP or BREP.
[[nodiscard]] part::PartPtr open_any(std::string_view name);
/// A box about the origin in x and y, standing on z = 0, all edges rounded.
[[nodiscard]] TopoDS_Shape rounded_box(double x, double y, double z, double radius);
/// The region as a solid standing on z = low, by BRepPrimAPI_MakePrism.
[[nodiscard]] TopoDS_Shape extruded(const geometry::Region& region, double low, double height);
/// The flat face whose centroid is farthest along the direction.
[[nodiscard]] int farthest_flat_face(const part::Part& part, Vec3 along);

/// What marking did to a body, found by OpenCASCADE alone.
struct Difference {
    /// By the divergence theorem over the faces that only one of the two has, about a point among them: nothing else of
    /// the part enters, so it is exact on parts of any size.
    double volume = 0;
    /// How far that is unsure, mm³, because edges that the file has between the changed faces lie beside those by their
    /// tolerances, beyond 10 nm.
    double unsure = 0;
    bool valid = false; ///< BRepCheck on the whole (of a large solid on all that changed), or it was not valid before
    bool closed = false, same_counts = false; ///< as many solids and shells
    int more_shells = 0, more_solids = 0;
};
[[nodiscard]] Difference difference(const part::Part& before, const part::Part& after, int body);

} // namespace touchmark::test
