// SPDX-License-Identifier: MIT
#pragma once

#include "core/surface/face_map.h"

namespace touchmark::surface {

/// For spheres, tori and freeform faces alike.
[[nodiscard]] Result<FaceMapPtr> map_curved(const part::Part& part, const part::Face& face);

} // namespace touchmark::surface
