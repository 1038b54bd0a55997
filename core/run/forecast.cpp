// SPDX-License-Identifier: MIT
#include "core/run/forecast.h"

#include <algorithm>
#include <cmath>

namespace touchmark::run {
namespace {

double hazard_of(double chance) {
    return -std::log1p(-std::min(chance, 1 - 1e-15));
}
double chance_of(double hazard) {
    return -std::expm1(-hazard);
}

/// How far the sum of all hazards may be off.
std::optional<Interval> hazard_interval(const ByEvent<double>& events, const Rates& rates, double sum) {
    double below = 0, above = 0;
    bool counted = false;
    for (const EventKind& kind : event_kinds()) {
        const Rate& rate = rates[kind.event];
        const double count = events[index_of(kind.event)];
        if (!rate.interval || count <= 0) continue;
        counted = true;
        const double own = hazard_of(rate.chance.value);
        const double low = count * (own - hazard_of(rate.interval->low));
        const double high = count * (hazard_of(rate.interval->high) - own);
        below += rates.fit == Fit::together ? low : low * low;
        above += rates.fit == Fit::together ? high : high * high;
    }
    if (!counted) return std::nullopt;
    if (rates.fit != Fit::together) below = std::sqrt(below), above = std::sqrt(above);
    return Interval{std::max(0.0, sum - below), sum + above};
}

} // namespace

std::optional<double> Forecast::cost() const {
    if (!rejects_cost && !hours_cost) return std::nullopt;
    return rejects_cost.value_or(0) + hours_cost.value_or(0);
}

Forecast forecast(const print::Extra& extra, const Rates& rates, std::int64_t units) {
    Forecast out;
    out.units = units;
    const auto all = static_cast<double>(units);
    const ByEvent<double> events = events_of(extra);
    double sum = 0, assumed = 0;
    for (const EventKind& kind : event_kinds()) {
        const double count = events[index_of(kind.event)];
        if (count <= 0) continue;
        const double hazard = count * hazard_of(rates[kind.event].chance.value);
        sum += hazard;
        if (!rates[kind.event].interval) assumed += hazard;
        out.shares.push_back({kind.event, count, hazard});
    }
    out.chance = chance_of(sum);
    out.rejects = all * out.chance;
    for (Share& share : out.shares)
        share.rejects = sum > 0 ? share.rejects / sum * out.rejects : 0;
    std::ranges::stable_sort(out.shares, std::ranges::greater(), &Share::rejects);
    out.assumed_share = sum > 0 ? assumed / sum : 0;
    out.rejects_interval = rejects_interval(units, out.chance);
    out.none = no_reject_chance(units, out.chance);
    if (const auto hazards = hazard_interval(events, rates, sum))
        out.chance_interval = Interval{chance_of(hazards->low), chance_of(hazards->high)};
    out.seconds = extra.seconds;
    out.hours = all * extra.seconds / 3600;
    if (rates.costs.unit) out.rejects_cost = out.rejects * *rates.costs.unit;
    if (rates.costs.machine_hour) out.hours_cost = out.hours * *rates.costs.machine_hour;
    return out;
}

} // namespace touchmark::run
