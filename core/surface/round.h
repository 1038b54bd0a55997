// SPDX-License-Identifier: MIT
#pragma once

#include "core/surface/face_map.h"

namespace touchmark::surface {

/// For cylinders and cones alike.
[[nodiscard]] Result<FaceMapPtr> map_round(const part::Part& part, const part::Face& face);

} // namespace touchmark::surface
