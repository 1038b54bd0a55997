// SPDX-License-Identifier: MIT
#pragma once

#include "core/imprint/imprint.h"

namespace touchmark::imprint {

/// Whether marks on faces that cannot be rolled out lie where their map is good, and whether their floors can be laid:
/// no deeper than the surface bends. Errors: "imprint.outside", "imprint.depth".
[[nodiscard]] Status within_curvature(std::span<const Footprint> marks);

} // namespace touchmark::imprint
