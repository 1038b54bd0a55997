// SPDX-License-Identifier: MIT
#pragma once

#include "core/part/part.h"

namespace touchmark::part {

/// Whether a face of one part and a face of what marking made of it lie on one surface of one body. A face that carries
/// marks has lost area and with it its fingerprint; its surface has stayed (of a freeform face, the middle of its
/// parameters).
[[nodiscard]] bool same_surface(const Face& a, const Face& b);

} // namespace touchmark::part
