// SPDX-License-Identifier: MIT
#include "core/content/fit.h"

#include "core/base/number_text.h"

#include <algorithm>
#include <cmath>

namespace touchmark::content {
namespace {

constexpr double close_enough = 1e-9; // of the width
constexpr int most_tries = 60;

using Width = std::function<Result<double>(double)>;

/// Where a width that never shrinks reaches `target`, between values at which it is too narrow and too wide: false
/// position with the stale end halved (the Illinois rule), for the width is all but a straight line.
Result<double> solved(const Width& width, double target, std::pair<double, double> low,
                      std::pair<double, double> high) {
    double low_miss = low.second - target, high_miss = high.second - target;
    for (int tries = 0; tries < most_tries; ++tries) {
        const double at = low.first + (high.first - low.first) * low_miss / (low_miss - high_miss);
        const auto now = width(at);
        if (!now) return now;
        const double miss = *now - target;
        if (std::abs(miss) <= close_enough * target || high.first - low.first <= 1e-12 * std::abs(high.first))
            return at;
        if (miss < 0) {
            low.first = at, low_miss = miss;
            high_miss /= 2;
        } else {
            high.first = at, high_miss = miss;
            low_miss /= 2;
        }
    }
    return (low.first + high.first) / 2;
}

std::string mm(double value) {
    return number_text(value) + " mm";
}

std::unexpected<Error> cannot(std::string message, std::string hint) {
    return fail("content.fit", std::move(message), std::move(hint));
}

} // namespace

Result<Text> fitted(const Text& text, const std::function<Result<double>(const Text&)>& width_of,
                    const FitLimits& limits) {
    const double target = text.fit_width.value;
    const bool by_size = text.fit == FitBy::size;
    Text out = text;
    out.fit_width = Mm(0);
    double& value = by_size ? out.cap_height.value : out.letter_spacing.value;
    const Width width = [&](double at) -> Result<double> {
        value = at;
        auto now = width_of(out);
        // Thinned to nothing at a small size: too narrow, whatever else.
        if (!now && by_size && now.error().code == "content.thinned") return 0.0;
        return now;
    };
    const double cap = text.cap_height.value;
    const double least = by_size ? limits.least_height : -limits.closer * cap;
    const double most = by_size ? limits.most_height : limits.further * cap;
    const auto narrow = width(least), wide = width(most);
    if (!narrow || !wide) return std::unexpected(narrow ? wide.error() : narrow.error());
    if (!by_size && *wide - *narrow <= close_enough * target)
        return cannot("The text has no gaps between letters that could be widened to make it " + mm(target) + " wide.",
                      "Fit it by its size.");
    if (target < *narrow * (1 - close_enough) || target > *wide * (1 + close_enough)) {
        if (by_size)
            return cannot("To be " + mm(target) + " wide the text would have to be " +
                              (target < *narrow ? "lower than " + mm(least) : "higher than " + mm(most)) + ".",
                          target < *narrow ? "Shorten the text, or give it more room." : "Give it less room.");
        return cannot("With letters from " + mm(-least) + " closer to " + mm(most) + " further apart the text is " +
                          mm(*narrow) + " to " + mm(*wide) + " wide, not " + mm(target) + ".",
                      "Change the cap height, or fit it by its size.");
    }
    const auto found = solved(width, target, {least, *narrow}, {most, *wide});
    if (!found) return std::unexpected(found.error());
    value = *found;
    return out;
}

} // namespace touchmark::content
