// SPDX-License-Identifier: MIT
#pragma once

#include "core/process/process.h"
#include "core/run/events.h"
#include "core/run/statistics.h"

namespace touchmark::run {

/// The chance that one event spoils its unit.
struct Rate {
    process::Sourced chance;
    std::optional<Interval> interval; ///< 95 %, where it was fitted from counts
};

/// What a shop's intervals say of each other.
enum class Fit {
    none,    ///< no interval: planning figures
    apart,   ///< each event by itself
    together ///< the planning figures, all by one factor: the counts did not tell the events apart
};
/// "none", "apart", "together".
[[nodiscard]] std::string_view key_of(Fit fit);

/// What the shop reckons with; nothing is told in money where a figure is missing.
struct Costs {
    std::string currency = "EUR";
    std::optional<double> unit;         ///< of one unit thrown away
    std::optional<double> machine_hour; ///< of a printer
};

/// Event rates of a shop: one file in resources/rates, or the user's own. A value.
struct Rates {
    std::string title;
    ByEvent<Rate> rates;
    Fit fit = Fit::none;
    Costs costs;

    [[nodiscard]] Rate& operator[](Event event) { return rates[index_of(event)]; }
    [[nodiscard]] const Rate& operator[](Event event) const { return rates[index_of(event)]; }
};

/// Strict, as a process profile: every figure with its unit and source, no unknown key. Errors: "run.rates_malformed",
/// "run.newer_version", file errors.
[[nodiscard]] Result<Rates> parse_rates(std::string_view json);
[[nodiscard]] Result<Rates> load_rates(const std::filesystem::path& file);
/// As parse_rates() reads it.
[[nodiscard]] std::string text_of(const Rates& rates);
[[nodiscard]] Status save_rates(const Rates& rates, const std::filesystem::path& file);

} // namespace touchmark::run
