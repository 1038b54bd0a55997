// SPDX-License-Identifier: MIT
#include "core/fitting/sentences.h"

#include <algorithm>
#include <cmath>

namespace touchmark::fitting {
namespace {

std::string thousandths(double value) {
    return fixed_number(value, 3);
}

std::string percent(double share) {
    return std::to_string(std::lround(100 * share)) + " %";
}

} // namespace

std::string change_text(const FittedFigure& figure) {
    if (!figure.value) return "stays " + thousandths(figure.base) + ' ' + figure.unit;
    return thousandths(figure.base) + " → " + thousandths(*figure.value) + ' ' + figure.unit;
}

std::string grounds_text(const FittedFigure& figure) {
    if (!figure.value) return figure.why;
    const std::string rows = std::to_string(figure.rows) + (figure.rows == 1 ? " row" : " rows");
    if (!(figure.high > figure.low)) return "no interval, " + rows;
    return "95 % from " + thousandths(figure.low) + " to " + thousandths(figure.high) + ' ' + figure.unit + ", " + rows;
}

std::string seen_text(const SeriesOutcome& series) {
    if (!series.seen) return {};
    const Threshold& seen = *series.seen;
    if (seen.low_open && seen.high_open) return "anything";
    if (seen.low_open) return "below " + fixed_number(seen.high, 2) + " mm";
    if (seen.high_open) return "above " + fixed_number(seen.low, 2) + " mm";
    return fixed_number(seen.size, 2) + " mm (" + fixed_number(seen.low, 2) + " to " + fixed_number(seen.high, 2) + ")";
}

std::string outlook_text(std::span<const Outlook> all) {
    if (all.empty()) return {};
    const auto right = [&](print::Verdict Outlook::* verdict) {
        return std::to_string(
            std::ranges::count_if(all, [&](const Outlook& one) { return one.as_seen(one.*verdict); }));
    };
    return "Of " + std::to_string(all.size()) + (all.size() == 1 ? " text or code" : " texts and codes") +
           ", which the fit did not use, the profile as it was says " + right(&Outlook::base) +
           " as you saw them, the fitted one " + right(&Outlook::fitted) + '.';
}

std::vector<std::string> surprises(std::span<const Outlook> all, std::span<const Item> items) {
    std::vector<std::string> out;
    for (const Outlook& one : all)
        if (!one.as_seen(one.fitted))
            out.push_back(items[one.item].name + ": came out " + std::to_string(one.came_out) + " of " +
                          std::to_string(one.printed) + ", by the fitted profile it " +
                          (one.fitted == print::Verdict::reads ? "comes out clean." : "is lost."));
    return out;
}

std::string wedge_text(const Fit& fit) {
    if (!fit.wedge) return {};
    const WedgeFit& wedge = *fit.wedge;
    std::string out = "The wedge's steps lie on a line with R² " + thousandths(wedge.r_squared) +
                      "; by it a wall of no thickness lets " + percent(wedge.surface) + " through";
    if (wedge.surface_interval)
        out += " (" + percent(wedge.surface_interval->low) + " to " + percent(wedge.surface_interval->high) + ")";
    return out + ". The profile takes the " + std::to_string(wedge.steps.size()) + " steps themselves.";
}

std::string scatter_text(const Fit& fit) {
    if (fit.readings == 0) return {};
    return std::to_string(fit.readings) + (fit.readings == 1 ? " width lies " : " measured widths lie ") +
           thousandths(fit.scatter_mm) + " mm about the simulated ones (standard deviation).";
}

} // namespace touchmark::fitting
