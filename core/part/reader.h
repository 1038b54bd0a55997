// SPDX-License-Identifier: MIT
#pragma once

#include "core/part/part.h"

#include <chrono>

namespace touchmark::part {

struct ReadLimits {
    std::chrono::milliseconds time{120'000}; ///< wall clock for one file
    std::size_t memory_bytes = 0;            ///< address space of the worker; 0: three quarters of the machine's memory
};

/// Reads part files in a separate process, so that a file that hangs, crashes or devours memory costs one Error and
/// nothing else. REQUIRES: start() at the top of main(), before any thread exists and before Qt: it forks a small
/// process that forks one worker a file.
class Reader {
public:
    [[nodiscard]] static Result<std::shared_ptr<Reader>> start();
    ~Reader();
    Reader(const Reader&) = delete;
    Reader& operator=(const Reader&) = delete;

    /// STEP AP203, AP214, AP242; any number of solids, assemblies, external references (relative to the file). Blocks;
    /// call off the interface thread. May be called from several threads. Cancelling kills the worker at once. Errors:
    /// "part.not_found", "part.not_readable", "part.not_step", "part.truncated", "part.empty", "part.no_solid",
    /// "part.bad_geometry", "part.crashed", "part.timeout", "part.too_large", "part.missing_reference", "cancelled".
    [[nodiscard]] Result<PartPtr> read(const std::filesystem::path& file, const Progress& progress,
                                       const ReadLimits& limits = {});

private:
    struct Impl;
    explicit Reader(std::unique_ptr<Impl> impl);
    std::unique_ptr<Impl> impl_;
};

} // namespace touchmark::part
