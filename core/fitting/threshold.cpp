// SPDX-License-Identifier: MIT
#include "core/fitting/threshold.h"

#include "core/fitting/search.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace touchmark::fitting {

double chance_to_come_out(double size, double threshold, double spread, double slip) {
    const double share = std::erfc((threshold - size) / (spread * std::numbers::sqrt2)) / 2;
    return slip / 2 + (1 - slip) * share;
}

double deviance_of(const Counted& row, double chance) {
    constexpr double never = 1e-300;
    double sum = 0;
    if (row.came_out > 0) sum += row.came_out * std::log(std::max(chance, never));
    if (row.came_out < row.printed) sum += (row.printed - row.came_out) * std::log(std::max(1 - chance, never));
    return -2 * sum;
}

std::optional<Threshold> threshold_of(std::span<const Counted> rows, double least_spread, double slip) {
    double smallest = 0, largest = 0;
    for (const Counted& row : rows) {
        if (row.printed <= 0) continue;
        smallest = smallest == 0 ? row.size : std::min(smallest, row.size);
        largest = std::max(largest, row.size);
    }
    if (largest <= 0) return std::nullopt;
    const double reach = std::max(largest - smallest, largest / 4);
    const std::vector<Range> ranges{{std::max(0.0, smallest - reach / 2), largest + reach / 2},
                                    {std::log(least_spread), std::log(std::max(2 * least_spread, 2 * reach))}};
    const Search search(ranges, [&](std::span<const double> at) {
        const double spread = std::exp(at[1]);
        double sum = 0;
        for (const Counted& row : rows)
            if (row.printed > 0) sum += deviance_of(row, chance_to_come_out(row.size, at[0], spread, slip));
        return sum;
    });
    const Search::Found best = search.best({(smallest + largest) / 2, (ranges[1].low + ranges[1].high) / 2});
    const Search::Interval interval = search.interval(best, 0, critical_excess());
    Threshold out{best.at[0],        std::exp(best.at[1]), interval.low, interval.high,
                  interval.low_open, interval.high_open,   best.deviance};
    // Where many places are as good as the best, the middle stands for them.
    constexpr double as_good = 0.05;
    const double middle = (interval.low + interval.high) / 2;
    if (!interval.low_open && !interval.high_open && search.excess(best, 0, middle) < as_good) out.size = middle;
    return out;
}

} // namespace touchmark::fitting
