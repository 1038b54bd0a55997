// SPDX-License-Identifier: MIT
#pragma once

#include "core/deliver/step.h"
#include "core/fitting/strip.h"
#include "core/imprint/imprint.h"

namespace touchmark::fitting {

struct WrittenStrip {
    Vec3 size_mm;
    double volume_mm3 = 0; ///< as read back
    imprint::Route route = imprint::Route::direct;
};

/// The strip of a process with its marks, ready to be printed; checked by reading it back. Errors: those of the strip,
/// of the marks and of write_step().
[[nodiscard]] Result<WrittenStrip> write_strip(const Strip& strip, const process::Process& process,
                                               std::shared_ptr<const content::FontLibrary> fonts,
                                               const std::filesystem::path& target, part::Reader& reader,
                                               const Progress& progress);
/// The strip without marks at `blank`, and at `target` the job that makes them, bound to it. Errors: also those of
/// saving a job.
[[nodiscard]] Status write_strip_job(const Strip& strip, const std::filesystem::path& blank,
                                     const std::filesystem::path& target, part::Reader& reader,
                                     const Progress& progress);

} // namespace touchmark::fitting
