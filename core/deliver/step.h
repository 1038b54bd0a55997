// SPDX-License-Identifier: MIT
#pragma once

#include "core/part/part.h"
#include "core/part/reader.h"

namespace touchmark::deliver {

enum class StepSchema { ap214, ap242 };

struct StepOptions {
    StepSchema schema = StepSchema::ap242;
    /// What the solids' volume must be on reading back, mm³, and how far off it may be; from the part itself when
    /// absent.
    std::optional<double> volume_mm3 = std::nullopt;
    double volume_tolerance_mm3 = 0; ///< 0: 1e-6 of the volume, at least 1e-6 mm³
    std::string author = {}, organisation = {};
};

struct StepReport {
    double seconds_write = 0, seconds_verify = 0;
    double volume_mm3 = 0;     ///< as read back
    int solids = 0, faces = 0; ///< as read back
    std::uintmax_t bytes = 0;
};

/// Writes units, product structure, names and colours; beside the target, read back by `reader`, checked valid, closed,
/// same counts and volume, then renamed. Nothing is half-written: on any error or kill the target is as it was. Errors:
/// "deliver.write", "deliver.verify" (says what differs), file errors, "cancelled".
[[nodiscard]] Result<StepReport> write_step(const part::Part& part, const std::filesystem::path& target,
                                            const StepOptions& options, part::Reader& reader, const Progress& progress);

} // namespace touchmark::deliver
