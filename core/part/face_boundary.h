// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/quadrature.h"

#include <BRepAdaptor_Surface.hxx>
#include <TopoDS_Face.hxx>

#include <optional>
#include <span>
#include <vector>

namespace touchmark::part {

/// A point of Gauss–Legendre quadrature along the boundary of a face in its parameter plane, the face to the left:
/// ∮ f du = Σ f(u, v)·du, and alike for dv.
struct BoundarySample {
    double u, v;
    double du, dv; ///< derivative × weight
};

/// Where a function of u and v along the boundary can be taken for a polynomial between two nodes.
struct Smoothness {
    double longest_u = 1e100, longest_v = 1e100;          ///< largest step
    std::span<const double> breaks_u = {}, breaks_v = {}; ///< ascending; no step goes across one
    /// Half the nodes do for a step no longer than this that hardly turns, and for one along a parameter line; 0:
    /// never.
    double easy_u = 0, easy_v = 0;
};

/// Gaps between the edges' curves, as loose wires have them, are bridged by straight lines: an open boundary would make
/// the result depend on where the parameter plane has its origin. nullopt when an edge has no curve in the parameter
/// plane.
[[nodiscard]] std::optional<std::vector<BoundarySample>>
boundary_samples(const TopoDS_Face& face, const BRepAdaptor_Surface& surface, const Smoothness& smoothness);

} // namespace touchmark::part
