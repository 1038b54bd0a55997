// SPDX-License-Identifier: MIT
#pragma once

#include "core/run/forecast.h"

#include <string>

/// How a person reads the figures of a run; the command line and the window say the same.
namespace touchmark::run {

/// Two figures that matter, thousands apart: "0.0034", "1.2", "27", "1,250", "100,000".
[[nodiscard]] std::string count_text(double value);
/// Rounded to two figures: "190,000". REQUIRES: value > 0.
[[nodiscard]] std::string about_text(double value);
/// "1 in 83,000", from 1 % on "1.2 %", "never".
[[nodiscard]] std::string chance_text(double chance);
/// "12 s", "4.5 min", "17 h".
[[nodiscard]] std::string time_text(double seconds);
/// "EUR 120".
[[nodiscard]] std::string money_text(double amount, const Costs& costs);

/// "1.2 rejects expected in 100,000 units; 0 to 4 in 95 % of such runs, none in 30 %"
[[nodiscard]] std::string rejects_text(const Forecast& forecast);
/// What the figure stands on: planning figures, counts, or both, and how far the counts leave it open.
[[nodiscard]] std::string grounds_text(const Forecast& forecast);
/// "Retractions 12: 0.24 rejects"
[[nodiscard]] std::string share_text(const Share& share);

} // namespace touchmark::run
