// SPDX-License-Identifier: MIT
#pragma once

#include "core/deliver/step.h"
#include "core/deliver/unmarked.h"

namespace touchmark::deliver {

/// Writes the part by OpenCASCADE into a temporary file, reads it back, and keeps its text. Names that are missing are
/// made from the target's. Errors: as write_step.
[[nodiscard]] Result<std::shared_ptr<const Unmarked>> write_unmarked(const part::PartPtr& part,
                                                                     const std::filesystem::path& target,
                                                                     StepSchema schema, part::Reader& reader,
                                                                     const Progress& progress);

/// Writes a marked copy by adding to its unmarked part's text. REQUIRES: options.unmarked. Errors: as write_step, and
/// "deliver.not_appendable" with the reason.
[[nodiscard]] Result<StepReport> write_appended(const part::Part& part, const std::filesystem::path& target,
                                                const StepOptions& options, part::Reader& reader,
                                                const Progress& progress);

} // namespace touchmark::deliver
