// SPDX-License-Identifier: MIT
#pragma once

#include "core/deliver/step.h"

namespace touchmark::deliver {

/// Whether what was read back from a file is the part that was to be written: counts, validity, closed shells, volume.
/// Errors: "deliver.verify", naming what differs.
[[nodiscard]] Status same_part(const part::Part& meant, const part::Part& back, const StepOptions& options);

} // namespace touchmark::deliver
