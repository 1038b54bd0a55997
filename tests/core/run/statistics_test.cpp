// SPDX-License-Identifier: MIT
#include "core/run/statistics.h"

#include <boost/math/distributions/binomial.hpp>
#include <boost/math/distributions/poisson.hpp>
#include <gtest/gtest.h>

namespace touchmark::run {
namespace {

TEST(ChanceInterval, IsClopperAndPearsons) {
    // 10 of 100: 4.90 % … 17.62 %; 1 of 10: 0.25 % … 44.50 % (tables of exact binomial limits, from memory).
    EXPECT_NEAR(chance_interval(10, 100).low, 0.0490, 5e-5);
    EXPECT_NEAR(chance_interval(10, 100).high, 0.1762, 5e-5);
    EXPECT_NEAR(chance_interval(1, 10).low, 0.0025, 5e-5);
    EXPECT_NEAR(chance_interval(1, 10).high, 0.4450, 5e-5);
    // Boost.Math's own limits, whose default method is the same.
    using Binomial = boost::math::binomial_distribution<>;
    for (const auto& [rejected, of] : {std::pair(3.0, 40.0), {7.0, 100'000.0}, {39.0, 40.0}}) {
        EXPECT_NEAR(chance_interval(rejected, of).low, Binomial::find_lower_bound_on_p(of, rejected, 0.025), 1e-12);
        EXPECT_NEAR(chance_interval(rejected, of).high, Binomial::find_upper_bound_on_p(of, rejected, 0.025), 1e-12);
    }
}

TEST(ChanceInterval, WithoutARejectIsTheRuleOfThree) {
    // 300 clean: at most 0.994 %, 1 - 0.05^(1/300); J. A. Hanley and A. Lippman-Hand, JAMA 249, 1983: about 3 / n.
    EXPECT_NEAR(chance_interval(0, 300).high, 0.00994, 5e-6);
    EXPECT_EQ(chance_interval(0, 300).low, 0);
    EXPECT_NEAR(chance_interval(0, 1e6).high, 3e-6, 0.01e-6);
    EXPECT_NEAR(chance_interval(300, 300).low, 1 - 0.00994, 5e-6);
    EXPECT_EQ(chance_interval(300, 300).high, 1);
}

TEST(ChanceInterval, HoldsTheTrueChanceInNineteenOfTwentyCounts) {
    // Coverage, summed exactly over all outcomes; Clopper and Pearson never fall below.
    for (const double chance : {0.01, 0.1, 0.4}) {
        double covered = 0;
        const boost::math::binomial_distribution<> outcomes(60, chance);
        for (int k = 0; k <= 60; ++k) {
            const Interval interval = chance_interval(k, 60);
            if (interval.low <= chance && chance <= interval.high) covered += pdf(outcomes, k);
        }
        EXPECT_GE(covered, 0.95) << chance;
        EXPECT_LT(covered, 0.995) << chance;
    }
}

TEST(RejectsInterval, IsTenWithinThreeRootsOfItAtOneInTenThousand) {
    // n p = 10, its standard deviation 3.2 (elementary); Poisson tables for 10: P(X <= 3) = .0103, P(X <= 4) = .0293,
    // P(X <= 16) = .9730, P(X <= 17) = .9857.
    EXPECT_EQ(rejects_interval(100'000, 1e-4), (Interval{4, 17}));
    EXPECT_NEAR(std::sqrt(100'000 * 1e-4 * (1 - 1e-4)), 3.2, 0.05);
    const Interval large = rejects_interval(100'000'000, 1e-4); // the normal approximation: 10,000 ± 1.96 × 100
    EXPECT_NEAR(large.low, 10'000 - 196, 2);
    EXPECT_NEAR(large.high, 10'000 + 196, 2);
}

TEST(RejectsInterval, LeavesLessThanATailOnEitherSideAndNoMoreThanItMust) {
    for (const auto& [units, chance] : {std::pair(50LL, 0.1), {1000LL, 0.003}, {100'000LL, 1e-4}}) {
        const boost::math::binomial_distribution<> rejects(static_cast<double>(units), chance);
        const Interval interval = rejects_interval(units, chance);
        if (interval.low > 0) {
            EXPECT_LE(cdf(rejects, interval.low - 1), 0.025);
        }
        EXPECT_LE(cdf(complement(rejects, interval.high)), 0.025);
        EXPECT_GT(cdf(rejects, interval.low), 0.025);
        EXPECT_GT(cdf(complement(rejects, interval.high - 1)), 0.025);
    }
}

TEST(RejectsInterval, HasItsEnds) {
    EXPECT_EQ(rejects_interval(1000, 0), (Interval{0, 0}));
    EXPECT_EQ(rejects_interval(0, 0.5), (Interval{0, 0}));
    EXPECT_EQ(rejects_interval(7, 1), (Interval{7, 7}));
    EXPECT_EQ(rejects_interval(100'000, 1e-9), (Interval{0, 0}));
}

TEST(NoReject, IsTheExponentialOfWhatIsExpected) {
    EXPECT_NEAR(no_reject_chance(100'000, 1e-5), 0.368, 5e-4); // 1/e
    EXPECT_EQ(no_reject_chance(100'000, 0), 1);
    EXPECT_EQ(no_reject_chance(3, 1), 0);
}

TEST(CleanUnits, AreThreeOverTheChance) {
    EXPECT_EQ(clean_units_for(1e-4), 29'956); // ln 0.05 / ln(1 - 1e-4)
    EXPECT_EQ(clean_units_for(0.01), 299);    // 299 for 99 % at 95 %: S. S. Wilks 1941, from memory
    EXPECT_LE(chance_interval(0, clean_units_for(1e-4)).high, 1e-4);
    EXPECT_GT(chance_interval(0, clean_units_for(1e-4) - 1).high, 1e-4);
}

} // namespace
} // namespace touchmark::run
