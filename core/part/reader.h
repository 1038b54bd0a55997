// SPDX-License-Identifier: MIT
#pragma once

#include "core/part/part.h"

#include <chrono>

namespace touchmark::part {

/// Whether the solids are free of faults takes BRepCheck up to half as long again as reading them.
enum class Verdict {
    awaited, ///< the part comes with it
    later    ///< the part comes at once, every solid taken for valid; checked() has the verdict
};

struct ReadLimits {
    std::chrono::milliseconds time{120'000}; ///< wall clock for one file
    std::size_t memory_bytes =
        0; ///< address space of the worker; beyond what it starts with; 0: three quarters of the machine's memory
    Verdict verdict = Verdict::awaited;
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

/// Waits for the verdict on a part that was read with Verdict::later. The same part when all its solids are valid (or
/// nothing is outstanding), else one that shares everything with it and says in bodies() and notes() what is wrong. A
/// check that crashes or takes longer than the limit of reading counts as a fault. Errors: "cancelled", after which it
/// may be asked again.
[[nodiscard]] Result<PartPtr> checked(const PartPtr& part, const Progress& progress);

} // namespace touchmark::part
