// SPDX-License-Identifier: MIT
#include "core/surface/map_table.h"
#include "core/surface/round.h"

namespace touchmark::surface {

Result<FaceMapPtr> map_cylinder(const part::Part& part, const part::Face& face) {
    return map_round(part, face);
}

} // namespace touchmark::surface
