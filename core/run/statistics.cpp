// SPDX-License-Identifier: MIT
#include "core/run/statistics.h"

#include <boost/math/distributions/binomial.hpp>
#include <boost/math/special_functions/beta.hpp>

#include <cmath>

namespace touchmark::run {
namespace {

constexpr double outside = 1 - confidence;

} // namespace

Interval chance_interval(double rejected, double of) {
    const double tail = rejected <= 0 || rejected >= of ? outside : outside / 2;
    return {rejected <= 0 ? 0 : boost::math::ibeta_inv(rejected, of - rejected + 1, tail),
            rejected >= of ? 1 : boost::math::ibetac_inv(rejected + 1, of - rejected, tail)};
}

Interval rejects_interval(std::int64_t units, double chance) {
    if (units <= 0 || chance <= 0) return {};
    const auto all = static_cast<double>(units);
    if (chance >= 1) return {all, all};
    using namespace boost::math::policies;
    // The least whole number up to which there is at least the share asked for.
    using Up = policy<discrete_quantile<integer_round_up>>;
    const boost::math::binomial_distribution<double, Up> rejects(all, chance);
    return {quantile(rejects, outside / 2), quantile(complement(rejects, outside / 2))};
}

double no_reject_chance(std::int64_t units, double chance) {
    return chance >= 1 ? (units > 0 ? 0 : 1) : std::exp(static_cast<double>(units) * std::log1p(-chance));
}

double clean_units_for(double chance) {
    return std::ceil(std::log(outside) / std::log1p(-chance));
}

} // namespace touchmark::run
