// SPDX-License-Identifier: MIT
#pragma once

#include "core/imprint/imprint.h"

namespace touchmark::imprint {

/// Whether marks on faces that cannot be rolled out lie where their map is good, and whether their floors can be laid:
/// no deeper than the surface bends. Errors: "imprint.outside", "imprint.depth".
[[nodiscard]] Status within_curvature(std::span<const Footprint> marks);

/// Points of the footprint, no farther apart than `spacing` mm unless that makes more than some thousand.
[[nodiscard]] std::vector<Vec2> points_of(const geometry::Outline& outline, double spacing);

} // namespace touchmark::imprint
