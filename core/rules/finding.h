// SPDX-License-Identifier: MIT
#pragma once

#include "core/job/job.h"

namespace touchmark::rules {

enum class Severity { blocker, warning, advice };
/// "blocker", "warning", "advice".
[[nodiscard]] std::string_view key_of(Severity severity);
/// "Will not print", "At risk", "Advice".
[[nodiscard]] std::string_view title_of(Severity severity);

/// A named edit of the job that resolves a finding.
struct Fix {
    std::string id;    ///< "cap_height", "weight", "depth", "move_inward", "engrave", "stand" …
    std::string title; ///< says what will change: "Cap height 4.2 → 5.6 mm"
    job::Edit edit;
};

/// One rule's word on one mark (or, with an empty mark, on the part).
struct Finding {
    std::string rule;
    Severity severity = Severity::advice;
    std::string mark;
    double figure = 0;                 ///< what it is
    double limit = 0;                  ///< what it has to be
    std::optional<double> comfortable; ///< from here on nothing is said
    std::string unit;                  ///< "mm", "" …
    std::string message;               ///< a sentence with the figure: "Strokes of 'R' are 0.38 mm; 0.50 mm prints."
    std::string why;                   ///< why it matters in production
    std::string source;                ///< of the limit
    std::vector<Vec2> where; ///< in map mm of the mark's face (already placed); the worst spot first, then where else
    std::vector<Vec3> where_on_part;
    double extent_mm = 1; ///< size of the spot, for zooming
    std::vector<Fix> fixes;
};

} // namespace touchmark::rules
