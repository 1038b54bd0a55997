// SPDX-License-Identifier: MIT
#pragma once

#include "core/geometry/outline.h"

#include <optional>

namespace touchmark::rules {

/// Smallest distance between two outlines, mm; 0 where they overlap or touch.
struct Nearness {
    double distance = 0;
    Vec2 on_a, on_b;
};
/// nullopt: farther apart than `within`. Curves count as polygons 0.002 mm off at most.
[[nodiscard]] std::optional<Nearness> nearness(const geometry::Outline& a, const geometry::Outline& b, double within);

} // namespace touchmark::rules
