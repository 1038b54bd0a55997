// SPDX-License-Identifier: MIT
#pragma once

#include "core/content/content.h"

namespace touchmark::content {

/// Lettering's row of draw(); see there for the errors.
[[nodiscard]] Result<Drawn> draw_text(const Text& text, const FontLibrary& fonts);

} // namespace touchmark::content
