// SPDX-License-Identifier: MIT
#include "core/run/forecast.h"

#include <gtest/gtest.h>

#include <cmath>

namespace touchmark::run {
namespace {

Rates rates_of(std::initializer_list<std::pair<Event, double>> chances) {
    Rates rates;
    for (const auto& [event, chance] : chances)
        rates[event].chance = {chance, "assumed: for the test", true};
    return rates;
}

TEST(Forecast, OfOneInTenThousandIsTenInAHundredThousandFourToSeventeen) {
    const print::Extra one{.retractions = 1};
    const Forecast out = forecast(one, rates_of({{Event::retraction, 1e-4}}), 100'000);
    EXPECT_NEAR(out.chance, 1e-4, 1e-12);
    EXPECT_NEAR(out.rejects, 10, 1e-6);
    EXPECT_EQ(out.rejects_interval, (Interval{4, 17})); // Poisson tables for 10
    EXPECT_NEAR(out.none, std::exp(-10.0), 1e-6);
    EXPECT_FALSE(out.chance_interval);
    EXPECT_EQ(out.assumed_share, 1);
    EXPECT_NEAR(forecast(one, rates_of({{Event::retraction, 1e-5}}), 100'000).none, 0.368, 5e-4); // 1/e
}

TEST(Forecast, AUnitIsSparedByEachEventByItself) {
    const print::Extra extra{.travels = 12, .retractions = 3, .first_layer_islands = 2, .outline_mm = 2500};
    const Rates rates = rates_of(
        {{Event::travel, 0.01}, {Event::retraction, 0.02}, {Event::first_layer_island, 0.05}, {Event::outline, 0.004}});
    const Forecast out = forecast(extra, rates, 1000);
    const double spared = std::pow(0.99, 12) * std::pow(0.98, 3) * std::pow(0.95, 2) * std::pow(0.996, 2.5);
    EXPECT_NEAR(out.chance, 1 - spared, 1e-12);
    ASSERT_EQ(out.shares.size(), 4U);
    EXPECT_EQ(out.shares.front().event, Event::travel);
    EXPECT_EQ(out.shares.back().event, Event::outline);
    double sum = 0;
    for (const Share& share : out.shares)
        sum += share.rejects;
    EXPECT_NEAR(sum, out.rejects, 1e-9);
}

TEST(Forecast, TellsHoursAndMoneyOnlyWithTheShopsFigures) {
    const print::Extra extra{.retractions = 1, .seconds = 7.2};
    Rates rates = rates_of({{Event::retraction, 1e-4}});
    const Forecast plain = forecast(extra, rates, 100'000);
    EXPECT_NEAR(plain.hours, 200, 1e-9);
    EXPECT_FALSE(plain.cost());
    rates.costs = {"EUR", 1.5, std::nullopt};
    EXPECT_NEAR(forecast(extra, rates, 100'000).cost().value(), 15, 1e-6);
    rates.costs.machine_hour = 4;
    EXPECT_NEAR(forecast(extra, rates, 100'000).cost().value(), 815, 1e-6);
}

TEST(Forecast, OfAMarkThatAddsNothingIsNothing) {
    const Forecast out = forecast({}, rates_of({{Event::travel, 0.5}}), 1000);
    EXPECT_EQ(out.chance, 0);
    EXPECT_EQ(out.rejects_interval, (Interval{0, 0}));
    EXPECT_EQ(out.none, 1);
    EXPECT_TRUE(out.shares.empty());
}

TEST(Forecast, StatesApartHowFarTheCountsLeaveTheChanceOpen) {
    const print::Extra extra{.travels = 3, .retractions = 4};
    Rates rates = rates_of({{Event::travel, 1e-6}, {Event::retraction, 2e-6}});
    rates[Event::travel].interval = Interval{0.4e-6, 2e-6};
    rates[Event::retraction].interval = Interval{1e-6, 3.5e-6};
    rates.fit = Fit::apart;
    // Zou, Huang and Zhang 2009 (their equations, from memory): squares of what each may be off add up.
    const Interval apart = forecast(extra, rates, 1000).chance_interval.value();
    EXPECT_NEAR(apart.low, 11e-6 - std::hypot(3 * 0.6e-6, 4 * 1e-6), 3e-10);
    EXPECT_NEAR(apart.high, 11e-6 + std::hypot(3 * 1e-6, 4 * 1.5e-6), 3e-10);
    rates.fit = Fit::together;
    const Interval together = forecast(extra, rates, 1000).chance_interval.value();
    EXPECT_NEAR(together.low, 3 * 0.4e-6 + 4 * 1e-6, 3e-10);
    EXPECT_NEAR(together.high, 3 * 2e-6 + 4 * 3.5e-6, 3e-10);
    rates[Event::travel].interval.reset();
    EXPECT_NEAR(forecast(extra, rates, 1000).assumed_share, 3.0 / 11, 1e-5);
}

} // namespace
} // namespace touchmark::run
