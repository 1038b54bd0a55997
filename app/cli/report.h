// SPDX-License-Identifier: MIT
#pragma once

#include "core/pipeline/evaluate.h"

#include <cmath>
#include <nlohmann/json_fwd.hpp>
#include <ostream>
#include <span>

namespace touchmark::cli {

/// A figure as JSON shows it: no more than three decimals.
[[nodiscard]] inline double rounded(double value) {
    return std::round(value * 1000) / 1000;
}
[[nodiscard]] nlohmann::ordered_json findings_json(std::span<const rules::Finding> findings);
/// One paragraph a finding, fixes indented below; says so when there is none.
void print_findings(std::ostream& out, std::span<const rules::Finding> findings);
/// How a mark comes out, after its name: "is at risk".
[[nodiscard]] std::string_view outcome_words(print::Verdict verdict);
/// On one line's end; bytes that are no UTF-8 are replaced.
void print_json(std::ostream& out, const nlohmann::ordered_json& object);

} // namespace touchmark::cli
