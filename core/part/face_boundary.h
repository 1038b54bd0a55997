// SPDX-License-Identifier: MIT
#pragma once

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

/// Gauss–Legendre nodes and weights on [-1, 1] (Abramowitz & Stegun, table 25.4).
struct GaussNode {
    double at, weight;
};
inline constexpr GaussNode gauss_4[] = {{-0.861136311594053, 0.347854845137454},
                                        {-0.339981043584856, 0.652145154862546},
                                        {0.339981043584856, 0.652145154862546},
                                        {0.861136311594053, 0.347854845137454}};
inline constexpr GaussNode gauss_8[] = {
    {-0.960289856497536, 0.101228536290376}, {-0.796666477413627, 0.222381034453374},
    {-0.525532409916329, 0.313706645877887}, {-0.183434642495650, 0.362683783378362},
    {0.183434642495650, 0.362683783378362},  {0.525532409916329, 0.313706645877887},
    {0.796666477413627, 0.222381034453374},  {0.960289856497536, 0.101228536290376}};

} // namespace touchmark::part
