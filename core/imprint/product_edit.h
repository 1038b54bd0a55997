// SPDX-License-Identifier: MIT
#pragma once

// Changed bodies put back into the file's product structure.

#include "core/imprint/body_edit.h"

namespace touchmark::imprint {

/// The product at the end of `path`, made the occurrence's own: where it (or an assembly above it) is used several
/// times, this use gets a copy named
/// "<product> marked".
[[nodiscard]] int own_product(part::Model& model, const std::vector<int>& path);

/// Replaces the body in its product; names and colours move to what their faces have become, the marks' faces get the
/// mark's.
void put_back(part::Model& model, const part::Part& part, const BodyEdit& edit, std::span<const Footprint> marks);

} // namespace touchmark::imprint
