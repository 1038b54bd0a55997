// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/result.h"
#include "core/part/part.h"

#include <array>
#include <string>

namespace touchmark::job {

struct Job;

/// Why a face has to stay as it is.
enum class ClearReason { sealing, mating, load_bearing, other };
inline constexpr std::array clear_reasons{ClearReason::sealing, ClearReason::mating, ClearReason::load_bearing,
                                          ClearReason::other};
/// "sealing", "load_bearing" …: the spelling in files and on the command line.
[[nodiscard]] std::string_view key_of(ClearReason reason);
/// "Sealing face", "Load-bearing face" …; of `other`: "Kept clear".
[[nodiscard]] std::string_view title_of(ClearReason reason);
[[nodiscard]] std::optional<ClearReason> clear_reason_from(std::string_view key);

/// A face that the engineer keeps clear of marks.
struct ClearFace {
    int face = -1;
    part::Fingerprint fingerprint;
    ClearReason reason = ClearReason::other;
    std::string note{}; ///< one line, in the engineer's words; may be empty

    friend bool operator==(const ClearFace&, const ClearFace&) = default;
};

// Edits. Errors: "job.out_of_range".
/// Adds it, or puts it in the place of what was said of that face before. They lie in the order of the faces.
[[nodiscard]] Result<Job> keep_clear(Job job, ClearFace face);
/// An edit of a face that is not kept clear changes nothing.
[[nodiscard]] Result<Job> release(Job job, int face);
/// nullptr: marks may lie there.
[[nodiscard]] const ClearFace* kept_clear(const Job& job, int face);

} // namespace touchmark::job
