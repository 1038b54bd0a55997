// SPDX-License-Identifier: MIT
#pragma once

#include "core/pipeline/store.h"

namespace touchmark::pipeline {

/// geometry::widths of a drawn content, put together from its pieces: each letter is measured once and remembered,
/// whatever text it stands in, and between letters only the distance is left to find. Gaps between pieces wider than
/// half of `cap_height` are not listed, nor is anything of a code's modules.
[[nodiscard]] Result<geometry::Widths> lettering_widths(Store& store, const content::Drawn& drawn, Mm cap_height,
                                                        const Progress& progress);

} // namespace touchmark::pipeline
