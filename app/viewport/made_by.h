// SPDX-License-Identifier: MIT
#pragma once

#include "core/job/job.h"

#include <algorithm>
#include <optional>
#include <vector>

namespace touchmark::viewport {

/// The mode of the mark that made each face of a marked part; nullopt for the part's own.
[[nodiscard]] inline std::vector<std::optional<Mode>> made_by(const part::Part& marked, const job::Job& job) {
    std::vector<std::optional<Mode>> modes;
    modes.reserve(marked.faces().size());
    for (const part::Face& face : marked.faces()) {
        const auto mark = std::ranges::find(job.marks, face.mark, &job::Mark::name);
        if (face.mark.empty())
            modes.emplace_back();
        else
            modes.emplace_back(mark != job.marks.end() ? mark->mode : Mode::engrave);
    }
    return modes;
}

} // namespace touchmark::viewport
