// SPDX-License-Identifier: MIT
#pragma once

#include "core/fitting/sheet.h"

#include <optional>

namespace touchmark::fitting {

struct Bounds {
    double low = 0, high = 0;
};

/// A straight line through points by least squares: NIST/SEMATECH e-Handbook of Statistical Methods, 4.1.4.1 and
/// 4.4.3.1; intervals of 95 % by Student's t.
struct Line {
    double intercept = 0, slope = 0;
    double intercept_deviation = 0, slope_deviation = 0; ///< standard deviations of the two
    double scatter = 0;                                  ///< of the points about the line
    double r_squared = 1;
    std::optional<Bounds> intercept_interval, slope_interval; ///< from three points on
};
/// nullopt unless two points have different x.
[[nodiscard]] std::optional<Line> line_through(std::span<const std::pair<double, double>> points);

/// What a wedge says of the material.
struct WedgeFit {
    std::vector<process::WedgeStep> steps; ///< one a thickness, ascending, never brighter than a thinner one
    double attenuation_per_mm = 0;         ///< ln 10 times the slope of -log T
    std::optional<Bounds> interval{};      ///< 95 %
    double r_squared = 1;
    double surface = 1;                       ///< share of light that a wall of no thickness lets through, by the line
    std::optional<Bounds> surface_interval{}; ///< 95 %
    bool evened = false; ///< a thicker step was brighter than a thinner one; their mean stands for both
};
/// log T against thickness; where a step was measured the thickness is that. nullopt unless two thicknesses were held
/// against a light and the thicker one is darker.
[[nodiscard]] std::optional<WedgeFit> wedge_fit(std::span<const Item> items, std::span<const Seen> seen);

} // namespace touchmark::fitting
