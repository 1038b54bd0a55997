// SPDX-License-Identifier: MIT
#pragma once

#include "core/part/part_data.h"

namespace touchmark::part {

/// The measure of a face of the kinds that marks are made of, many at a time: a flat one bounded by lines and Béziers,
/// one on a cylinder bounded by these and circles, and a whole strip between two Béziers (an extrusion, or a B-spline
/// surface of one span that is straight across). Gives what the general way gives, several times faster; nullopt for
/// all other faces.
[[nodiscard]] std::optional<FaceMeasure> measure_simply(const TopoDS_Face& face, const Vec3& about);

} // namespace touchmark::part
