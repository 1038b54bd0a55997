// SPDX-License-Identifier: MIT
#pragma once

#include "core/part/part.h"

namespace touchmark::viewport {

/// Every colour of the scene; see look_of().
struct Look {
    part::Colour backdrop_top, backdrop_bottom;
    part::Colour body;            ///< the part where nothing is rated
    part::Colour kept_clear;      ///< faces that marks stay off
    part::Colour crease, tangent; ///< edges where the surface breaks, and where it runs on smoothly
    part::Colour plate, plate_line;
    float plate_shadow = 0.3F; ///< how dark the part's contact shadow is
    part::Colour cut, raised;  ///< a mark's own surfaces
    part::Colour lost, fused;  ///< where a printed mark departs from its plan
    part::Colour rim;          ///< outline of a mark
    part::Colour accent;       ///< outline of the selected mark
};
enum class Theme { light, dark };
[[nodiscard]] Look look_of(Theme theme);

} // namespace touchmark::viewport
