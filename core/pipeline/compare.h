// SPDX-License-Identifier: MIT
#pragma once

#include "core/pipeline/extras.h"
#include "core/pipeline/printing.h"

namespace touchmark::pipeline {

/// One mark made another way or put elsewhere, judged as if the job said so.
struct Alternative {
    std::string title; ///< "Raised, face 3 (side wall)"
    bool as_it_is = false;
    Mode mode = Mode::engrave;
    int face = -1;
    Zone zone = Zone::side_wall;

    std::optional<rules::Severity> severity; ///< of the worst finding on the mark, or new on another; nullopt: none
    std::string finding;                     ///< that finding's sentence
    print::Verdict verdict = print::Verdict::lost;
    double figure = 0;       ///< of the worst letter; of a code the share of its modules that are right
    std::string worst_piece; ///< which letter
    print::Extra extra;
    run::Forecast forecast;
    std::optional<Error> trouble; ///< why it could not be printed in simulation; then the figures are empty

    job::Edit edit;

    /// By the findings and the simulated print together; the better first.
    enum class Standing { clean, at_risk, lost, will_not_print };
    [[nodiscard]] Standing standing() const;
};

struct CompareOptions {
    std::vector<Mode> modes{Mode::engrave, Mode::raise, Mode::hidden};
    std::size_t side_walls = 2;     ///< other flat faces to try there, the largest first
    std::size_t of_other_zones = 1; ///< and in each other zone
};

/// The mark as it is and each alternative: modes on its own face and on other flat, unmarked faces of solids that its
/// text fits, in the middle of the largest rectangle, level there or turned by a quarter. Each is evaluated and printed
/// in simulation; sorted as sort_alternatives() does. Errors: "job.no_mark", "process.unknown", "print.no_figures",
/// "cancelled".
[[nodiscard]] Result<std::vector<Alternative>> compare(Evaluator& evaluator, const job::Job& job, std::string_view mark,
                                                       const Surroundings& around, const run::Rates& rates,
                                                       std::int64_t units, const CompareOptions& options,
                                                       const Progress& progress);

/// Forecasts anew, then by standing, and among alike the cheaper (without the shop's costs: fewer rejects, less time)
/// before the dearer. What could not be printed in simulation comes last.
void sort_alternatives(std::vector<Alternative>& alternatives, const run::Rates& rates, std::int64_t units);

} // namespace touchmark::pipeline
