// SPDX-License-Identifier: MIT
#include "core/surface/curved.h"
#include "core/surface/map_table.h"

namespace touchmark::surface {

Result<FaceMapPtr> map_freeform(const part::Part& part, const part::Face& face) {
    return map_curved(part, face);
}

} // namespace touchmark::surface
