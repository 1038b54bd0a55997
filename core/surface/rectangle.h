// SPDX-License-Identifier: MIT
#pragma once

#include "core/geometry/contour.h"

#include <span>

namespace touchmark::surface {

/// The largest axis-parallel rectangle in the area that the polygons bound (even-odd), never outside it; its sides
/// within about 0.05 mm of the best there is. Where nothing wider than a few thousandths of the area's size fits, an
/// empty rectangle at a point inside.
[[nodiscard]] Box2 largest_rectangle(std::span<const geometry::Polygon> boundary);

} // namespace touchmark::surface
