// SPDX-License-Identifier: MIT
#include "core/run/sentences.h"

#include <cmath>

namespace touchmark::run {
namespace {

std::string with_thousands(const std::string& digits) {
    std::string text;
    for (std::size_t i = 0; i < digits.size(); ++i) {
        if (i > 0 && (digits.size() - i) % 3 == 0) text += ',';
        text += digits[i];
    }
    return text;
}

/// Rounded to two figures that matter.
double rounded(double value) {
    const double step = std::pow(10, std::floor(std::log10(value)) - 1);
    return std::round(value / step) * step;
}

/// With a decimal point in every locale.
std::string decimals(double value, int places) {
    const double scale = std::pow(10, places);
    const auto all = static_cast<long long>(std::llround(value * scale));
    const auto whole = all / static_cast<long long>(scale);
    const std::string rest = std::to_string(all % static_cast<long long>(scale));
    return std::to_string(whole) + "." + std::string(static_cast<std::size_t>(places) - rest.size(), '0') + rest;
}

std::string whole(double value) {
    return with_thousands(std::to_string(std::llround(value)));
}

std::string in_rejects(double value) {
    const std::string text = count_text(value);
    return text + (text == "1" ? " reject" : " rejects");
}

/// Never 100 % of what is less than certain.
std::string percent(double share) {
    if (share < 1 && share > 0.995) return "more than 99 %";
    return whole(100 * share) + " %";
}

std::string events_text(double events, std::string_view unit) {
    if (unit == "1/mm") return count_text(events) + " mm";
    if (unit == "1/m") return events < 1 ? count_text(1000 * events) + " mm" : count_text(events) + " m";
    return count_text(events);
}

} // namespace

std::string count_text(double value) {
    constexpr double least = 1e-9;
    if (std::abs(value) < least) return "0";
    if (value < 0) return "-" + count_text(-value);
    if (value >= 99.5 || std::abs(value - std::round(value)) < least) return whole(value);
    const double near = rounded(value);
    if (near >= 10) return whole(near);
    const int places = 1 - static_cast<int>(std::floor(std::log10(near) + least));
    std::string text = decimals(near, places);
    if (places > 1 && text.ends_with('0')) text.pop_back();
    return text;
}

std::string about_text(double value) {
    return whole(rounded(value));
}

std::string chance_text(double chance) {
    if (chance <= 0) return "never";
    if (chance >= 0.01) return count_text(100 * chance) + " %";
    return "1 in " + about_text(1 / chance);
}

std::string time_text(double seconds) {
    if (seconds < 120) return count_text(seconds) + " s";
    if (seconds < 7200) return count_text(seconds / 60) + " min";
    return count_text(seconds / 3600) + " h";
}

std::string money_text(double amount, const Costs& costs) {
    return costs.currency + " " + (amount >= 100 ? whole(amount) : decimals(amount, 2));
}

std::string rejects_text(const Forecast& forecast) {
    const Interval& range = forecast.rejects_interval;
    std::string text =
        in_rejects(forecast.rejects) + " expected in " + whole(static_cast<double>(forecast.units)) + " units; ";
    const std::string none = "none in " + percent(forecast.none) + " of such runs";
    if (range.high <= 0) return text + none;
    text += whole(range.low) + " to " + whole(range.high) + " in 95 % of such runs";
    return forecast.none >= 0.005 ? text + ", none in " + percent(forecast.none) : text;
}

std::string grounds_text(const Forecast& forecast) {
    const auto all = static_cast<double>(forecast.units);
    if (forecast.shares.empty()) return "It adds nothing that could spoil a unit.";
    if (!forecast.chance_interval)
        return "By planning figures, which nobody has counted: good for comparing, not for a quotation.";
    std::string text = "By counts of the shop, which leave the expectation open from " +
                       count_text(all * forecast.chance_interval->low) + " to " +
                       count_text(all * forecast.chance_interval->high) + " (95 %).";
    if (forecast.assumed_share >= 0.005)
        text += " " + count_text(std::round(100 * forecast.assumed_share)) + " % of it rest on planning figures.";
    return text;
}

std::string share_text(const Share& share) {
    const EventKind& kind = kind_of(share.event);
    return std::string(kind.title) + " " + events_text(share.events, kind.unit) + ": " + in_rejects(share.rejects);
}

} // namespace touchmark::run
