// SPDX-License-Identifier: MIT
#pragma once

#include "core/part/part.h"

namespace touchmark::viewport {

/// The colour map cividis at t in 0…1, dark blue to light yellow: lightness grows evenly, and people with and without
/// colour vision deficiency see much the same. J. R. Nuñez, C. R. Anderton, R. S. Renslow, "Optimizing colormaps with
/// consideration for color vision deficiency to enable accurate interpretation of scientific data", PLOS ONE 13(7),
/// 2018, e0199239; every fifteenth row of its table of 256 colours, straight lines between.
[[nodiscard]] part::Colour cividis(double t);

} // namespace touchmark::viewport
