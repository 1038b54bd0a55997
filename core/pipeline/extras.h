// SPDX-License-Identifier: MIT
#pragma once

#include "core/pipeline/evaluate.h"
#include "core/run/counts.h"
#include "core/run/forecast.h"

namespace touchmark::pipeline {

/// What one mark adds to the plain part's layers; or why that is not known.
struct MarkExtra {
    std::string mark; ///< its id
    std::optional<print::Extra> extra;
    std::optional<Error> trouble;
};

/// Each of the job's marks, in its order. Errors: "print.no_figures" (the profile has none for printing), "cancelled".
[[nodiscard]] Result<std::vector<MarkExtra>> extras_of(const Evaluation& evaluation, const process::Process& process,
                                                       const Progress& progress);

/// All marks on one part. Marks that stand on the part's highest face wait for the least layer time in the same layers,
/// so one does while another is laid.
[[nodiscard]] print::Extra sum_of(std::span<const MarkExtra> marks);

/// For a shop's counts that go by marks' names. REQUIRES: marks of that job.
[[nodiscard]] run::EventsOfMark events_by_name(const job::Job& job, std::vector<MarkExtra> marks);

} // namespace touchmark::pipeline
