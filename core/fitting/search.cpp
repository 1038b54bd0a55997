// SPDX-License-Identifier: MIT
#include "core/fitting/search.h"

#include <boost/math/distributions/chi_squared.hpp>
#include <boost/math/distributions/students_t.hpp>
#include <boost/math/tools/minima.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

namespace touchmark::fitting {
namespace {

constexpr double confidence = 0.95;
constexpr int scanned = 24; ///< places a range
constexpr std::size_t nothing = std::numeric_limits<std::size_t>::max();

} // namespace

double critical_excess() {
    return quantile(boost::math::chi_squared(1), confidence);
}

double critical_excess(double squares, double free) {
    const double t = quantile(boost::math::students_t(free), (1 + confidence) / 2);
    return squares * std::log1p(t * t / free);
}

/// Moves one figure to the least within `reach` of where it is; gives back the deviance there.
double Search::move(std::vector<double>& at, std::size_t which, double reach) const {
    const double before = at[which];
    const auto with = [&](double value) {
        at[which] = value;
        return deviance_(at);
    };
    const double own = with(before);
    const double low = std::max(ranges_[which].low, before - reach),
                 high = std::min(ranges_[which].high, before + reach);
    constexpr int bits = 16;
    std::uintmax_t most = 40;
    const auto [place, least] = boost::math::tools::brent_find_minima(with, low, high, bits, most);
    if (least < own) return at[which] = place, least;
    return at[which] = before, own;
}

Search::Found Search::descend(std::vector<double> at, std::size_t held, bool scan) const {
    double deviance = deviance_(at);
    if (scan)
        for (int twice = 0; twice < 2; ++twice)
            for (std::size_t k = 0; k < at.size(); ++k) {
                if (k == held || !free(k)) continue;
                double best = at[k];
                for (int i = 0; i <= scanned; ++i) {
                    at[k] = ranges_[k].low + (ranges_[k].high - ranges_[k].low) * i / scanned;
                    if (const double here = deviance_(at); here < deviance) deviance = here, best = at[k];
                }
                at[k] = best;
            }
    constexpr int most_rounds = 60;
    constexpr double still = 1e-4;
    for (int round = 0; round < most_rounds; ++round) {
        const double before = deviance;
        for (std::size_t k = 0; k < at.size(); ++k)
            if (k != held && free(k)) deviance = move(at, k, (ranges_[k].high - ranges_[k].low) / scanned);
        if (before - deviance < still) break;
    }
    return {std::move(at), deviance};
}

Search::Found Search::best(std::vector<double> start) const {
    return descend(std::move(start), nothing, true);
}

double Search::excess(const Found& best, std::size_t held, double value) const {
    std::vector<double> at = best.at;
    at[held] = value;
    return descend(std::move(at), held, false).deviance - best.deviance;
}

Search::Interval Search::interval(const Found& best, std::size_t of, double critical) const {
    const double width = ranges_[of].high - ranges_[of].low, middle = best.at[of];
    // Outwards from the best, each time from where the others were likeliest last.
    const auto bound = [&](double way, double end, bool& open) {
        Found last = best;
        const auto allowed = [&](double value) {
            std::vector<double> at = last.at;
            at[of] = value;
            Found here = descend(std::move(at), of, false);
            const bool good = here.deviance - best.deviance <= critical;
            if (good) last = std::move(here);
            return good;
        };
        double in = middle, step = width / 200;
        for (;;) {
            const double out = way > 0 ? std::min(end, in + step) : std::max(end, in - step);
            if (!allowed(out)) {
                double beyond = out;
                while (std::abs(beyond - in) > width * 2e-4) {
                    const double between = (in + beyond) / 2;
                    (allowed(between) ? in : beyond) = between;
                }
                return (in + beyond) / 2;
            }
            in = out;
            if (in == end) break;
            step *= 2;
        }
        open = true;
        return end;
    };
    Interval out;
    out.low = bound(-1, ranges_[of].low, out.low_open);
    out.high = bound(1, ranges_[of].high, out.high_open);
    return out;
}

} // namespace touchmark::fitting
