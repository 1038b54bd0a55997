// SPDX-License-Identifier: MIT
#include "core/run/sentences.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace touchmark::run {
namespace {

TEST(Sentences, CountsHaveTheFiguresThatMatter) {
    for (const auto& [value, text] : {std::pair(0.0, "0"),
                                      {0.00344, "0.0034"},
                                      {0.0996, "0.1"},
                                      {0.5, "0.5"},
                                      {0.73, "0.73"},
                                      {1.23, "1.2"},
                                      {3.0, "3"},
                                      {9.96, "10"},
                                      {27.4, "27"},
                                      {99.6, "100"},
                                      {1250.4, "1,250"},
                                      {100'000.0, "100,000"},
                                      {1'234'567.0, "1,234,567"}})
        EXPECT_EQ(count_text(value), text);
}

TEST(Sentences, ChancesAreOneInSoMany) {
    EXPECT_EQ(about_text(29'956), "30,000");
    EXPECT_EQ(chance_text(0), "never");
    EXPECT_EQ(chance_text(1.2e-5), "1 in 83,000");
    EXPECT_EQ(chance_text(0.012), "1.2 %");
    EXPECT_EQ(chance_text(0.5), "50 %");
}

TEST(Sentences, TimesAndMoneyAreInUnitsThatAPersonReads) {
    EXPECT_EQ(time_text(0.61), "0.61 s");
    EXPECT_EQ(time_text(270), "4.5 min");
    EXPECT_EQ(time_text(17 * 3600), "17 h");
    EXPECT_EQ(money_text(1.9, {.currency = "EUR", .unit = {}, .machine_hour = {}}), "EUR 1.90");
    EXPECT_EQ(money_text(1234.5, {.currency = "CHF", .unit = {}, .machine_hour = {}}), "CHF 1,235");
}

TEST(Sentences, SayWhatAFigureStandsOn) {
    Rates rates;
    rates.title = "Planning figures";
    rates[Event::retraction].chance = {1e-5, "assumed: for the test", true};
    const print::Extra one{.retractions = 1};
    const Forecast planned = forecast(one, rates, 100'000);
    EXPECT_EQ(rejects_text(planned), "1 reject expected in 100,000 units; 0 to 3 in 95 % of such runs, none in 37 %");
    EXPECT_EQ(rejects_text(forecast(one, rates, 100)),
              "0.001 rejects expected in 100 units; none in more than 99 % of such runs");
    EXPECT_THAT(grounds_text(planned), testing::HasSubstr("nobody has counted"));
    EXPECT_EQ(share_text(planned.shares.front()), "Retractions 1: 1 reject");
    rates[Event::retraction].interval = Interval{0.5e-5, 2e-5};
    rates.fit = Fit::apart;
    EXPECT_EQ(grounds_text(forecast(one, rates, 100'000)),
              "By counts of the shop, which leave the expectation open from 0.5 to 2 (95 %).");
    EXPECT_THAT(grounds_text(forecast({}, rates, 100'000)), testing::HasSubstr("nothing"));
}

} // namespace
} // namespace touchmark::run
