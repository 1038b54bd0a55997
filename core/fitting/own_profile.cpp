// SPDX-License-Identifier: MIT
#include "core/fitting/own_profile.h"

#include <algorithm>
#include <cmath>

namespace touchmark::fitting {
namespace {

std::string interval(double low, double high, const std::string& unit) {
    return "95 % from " + fixed_number(low, 3) + " to " + fixed_number(high, 3) + ' ' + unit;
}

std::string rows_text(std::size_t rows) {
    return std::to_string(rows) + (rows == 1 ? " row" : " rows");
}

void add_limits(const SeriesOutcome& outcome, std::vector<process::Adjustment>& to) {
    const Series& series = *std::ranges::find(all_series(), outcome.letter, &Series::letter);
    if (series.kind != Kind::stroke && series.kind != Kind::gap) return;
    if (!outcome.seen || outcome.seen->low_open || outcome.seen->high_open) return;
    constexpr double nineteen_of_twenty = 1.645; // standard deviations
    const double half = outcome.seen->size, most = half + nineteen_of_twenty * outcome.seen->spread;
    const std::string key = std::string("limits.") + (series.kind == Kind::gap ? "gap_width." : "stroke_width.") +
                            std::string(key_of(series.mode)) + '.' + std::string(key_of(series.zone));
    const auto hundredths_up = [](double value) { return std::ceil(value * 100 - 1e-9) / 100; };
    const std::string where = "test strip, series " + std::string(1, outcome.letter) + ": ";
    to.push_back({key + ".hard",
                  {hundredths_up(half),
                   where + "half come out, " + interval(outcome.seen->low, outcome.seen->high, "mm"), false}});
    to.push_back({key + ".comfortable", {hundredths_up(most), where + "19 of 20 come out", false}});
}

} // namespace

process::Derivation own_profile(const Fit& fit, std::string title, Limits limits) {
    process::Derivation out;
    out.title = std::move(title);
    out.based_on = fit.base.id;
    for (const FittedFigure& figure : fit.figures) {
        if (!figure.value) continue;
        const bool sure = figure.high > figure.low;
        out.figures.push_back({figure.key,
                               {*figure.value,
                                "fitted to test strips, " + rows_text(figure.rows) + ": " +
                                    (sure ? interval(figure.low, figure.high, figure.unit) : "no interval"),
                                false}});
    }
    if (limits == Limits::by_strip)
        for (const SeriesOutcome& outcome : fit.series)
            add_limits(outcome, out.figures);
    if (fit.wedge && fit.wedge->steps.size() > 1) {
        out.wedge = fit.wedge->steps;
        out.wedge_source = "light wedge of the test strip";
    }
    return out;
}

} // namespace touchmark::fitting
