// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/words.h"
#include "core/part/part.h"
#include "core/pipeline/printed_surface.h"

#include <memory>
#include <string>

namespace touchmark::viewport {

/// What the pointer is on.
struct Hit {
    int face = -1;      ///< of the unmarked part
    Vec3 point, normal; ///< part coordinates
};

/// One mark as the viewport draws it.
struct MarkShape {
    std::string id;
    part::FaceMesh relief; ///< from imprint::relief, part coordinates
    Mode mode = Mode::engrave;
    bool selected = false;
    bool ghost = false;   ///< the preview of a fix
    bool in_part = false; ///< the part drawn has it already: only its outline is drawn, when selected
    /// Drawn in the place of `relief` when it is there.
    std::shared_ptr<const pipeline::PrintedSurface> printed;
};

} // namespace touchmark::viewport
