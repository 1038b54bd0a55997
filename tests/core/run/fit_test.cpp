// SPDX-License-Identifier: MIT
// Against closed forms of the binomial likelihood, exact limits (statistics_test.cpp holds those against tables), and
// counts drawn from known chances.
#include "core/run/fit.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace touchmark::run {
namespace {

Rates planning() {
    return load_rates(std::filesystem::path(TOUCHMARK_RESOURCES) / "rates" / "planning.json").value();
}
Lot lot(double printed, double rejected, std::initializer_list<std::pair<Event, double>> events,
        bool plain_part = false) {
    Lot out;
    out.printed = printed;
    out.rejected = rejected;
    out.plain_part = plain_part;
    for (const auto& [event, count] : events)
        out.events[index_of(event)] = count;
    return out;
}

TEST(FitByEvent, IsTheShareWithItsExactInterval) {
    const Rates rates =
        fitted(planning(), {.tallies = {{Event::travel, 6'000'000, 5}, {Event::travel, 4'000'000, 2}}}).value();
    EXPECT_EQ(rates.fit, Fit::apart);
    EXPECT_DOUBLE_EQ(rates[Event::travel].chance.value, 7e-7);
    EXPECT_EQ(rates[Event::travel].interval, chance_interval(7, 1e7));
    EXPECT_FALSE(rates[Event::travel].chance.assumed);
    EXPECT_NE(rates[Event::travel].chance.source.find("7 of 10000000"), std::string::npos);
    EXPECT_TRUE(rates[Event::ledge].chance.assumed); // nothing was counted of it
    EXPECT_FALSE(rates[Event::ledge].interval);
    EXPECT_TRUE(parse_rates(text_of(rates)));
}

TEST(FitByLot, OfOneKindInvertsTheChanceOfAUnit) {
    // 1 - (1 - r)^n = k / N.
    const Rates rates = fitted(planning(), {.lots = {lot(1000, 100, {{Event::travel, 20}})}}).value();
    EXPECT_EQ(rates.fit, Fit::apart);
    EXPECT_NEAR(rates[Event::travel].chance.value, 1 - std::pow(0.9, 1.0 / 20), 1e-9);
    // The exact limits of the unit's chance, turned into the event's alike.
    const Interval unit = chance_interval(100, 1000), own = *rates[Event::travel].interval;
    EXPECT_NEAR(own.low, 1 - std::pow(1 - unit.low, 1.0 / 20), 3e-4);
    EXPECT_NEAR(own.high, 1 - std::pow(1 - unit.high, 1.0 / 20), 3e-4);
}

TEST(FitByLot, OfTwoKindsSolvesTwoEquations) {
    // 3 a + 4 b and 1 a + 8 b, a = 2e-4 and b = 5e-5; as many lots as unknowns: the likeliest meets both counts.
    const double first = 1 - std::exp(-(3 * 2e-4 + 4 * 5e-5)), second = 1 - std::exp(-(2e-4 + 8 * 5e-5));
    const Counts counts{.lots = {lot(1e6, 1e6 * first, {{Event::first_layer_island, 3}, {Event::travel, 4}}),
                                 lot(1e6, 1e6 * second, {{Event::first_layer_island, 1}, {Event::travel, 8}})}};
    const Rates rates = fitted(planning(), counts).value();
    EXPECT_NEAR(rates[Event::first_layer_island].chance.value, 2e-4, 2e-7);
    EXPECT_NEAR(rates[Event::travel].chance.value, 5e-5, 1e-7);
}

TEST(FitByLot, TakesThePlainPartsOwnRejectsOut) {
    const Counts counts{.lots = {lot(1e6, 1e6 * (1 - std::exp(-3e-3 - 10 * 1e-4)), {{Event::retraction, 10}}, true),
                                 lot(1e6, 1e6 * (1 - std::exp(-3e-3)), {}, true)}};
    const Rates rates = fitted(planning(), counts).value();
    EXPECT_NEAR(rates[Event::retraction].chance.value, 1e-4, 2e-7);
    EXPECT_TRUE(rates[Event::travel].chance.assumed);
}

TEST(FitByLot, AKindThatSpoiltNothingHasAnUpperLimitAlone) {
    const Counts counts{.lots = {lot(50'000, 0, {{Event::travel, 6}}), lot(50'000, 40, {{Event::retraction, 4}})}};
    const Rates rates = fitted(planning(), counts).value();
    EXPECT_EQ(rates[Event::travel].chance.value, 0);
    EXPECT_EQ(rates[Event::travel].interval->low, 0);
    EXPECT_NEAR(rates[Event::travel].interval->high, 3.0 / 300'000, 0.1e-5); // the rule of three
}

TEST(FitByLot, ScalesThePlanningFiguresWhereLotsDoNotTellEventsApart) {
    const Rates before = planning();
    const auto events = {std::pair(Event::travel, 100.0), {Event::retraction, 50.0}, {Event::outline, 2.0}};
    double hazard = 0;
    for (const auto& [event, count] : events)
        hazard -= count * std::log1p(-before[event].chance.value);
    const Rates rates = fitted(before, {.lots = {lot(200'000, 12, events), lot(100'000, 6, events)}}).value();
    EXPECT_EQ(rates.fit, Fit::together);
    const double factor = -std::log1p(-18 / 3e5) / hazard;
    const Interval unit = chance_interval(18, 3e5);
    for (const auto& [event, count] : events) {
        EXPECT_NEAR(rates[event].chance.value / before[event].chance.value, factor, factor * 1e-4);
        // The exact interval of all rejects, or the likelihood's where that reaches further.
        EXPECT_NEAR(rates[event].interval->low / rates[event].chance.value, unit.low / 6e-5, 0.02);
        EXPECT_NEAR(rates[event].interval->high / rates[event].chance.value, unit.high / 6e-5, 0.02);
    }
    EXPECT_TRUE(rates[Event::ledge].chance.assumed);
    EXPECT_TRUE(parse_rates(text_of(rates)));
}

TEST(FitByLot, WhereEveryUnitWasRejectedTheChanceMayBeOne) {
    const Rates rates = fitted(planning(), {.lots = {lot(50, 50, {{Event::first_layer_island, 1}})}}).value();
    const Rate& rate = rates[Event::first_layer_island];
    EXPECT_GT(rate.chance.value, 0.94);
    EXPECT_EQ(rate.interval->high, 1);
    EXPECT_LE(rate.interval->low, chance_interval(50, 50).low + 1e-9);
    EXPECT_GT(rate.interval->low, 0.9); // 0.05^(1/50) = 0.942
    EXPECT_TRUE(parse_rates(text_of(rates)));
}

TEST(FitByLot, AFactorMayBeAsLargeAsTheCountsAskFor) {
    const std::initializer_list<std::pair<Event, double>> events{{Event::travel, 1}, {Event::retraction, 1}};
    const Rates before = planning(), rates = fitted(before, {.lots = {lot(1000, 5, events)}}).value();
    EXPECT_NEAR(rates[Event::travel].chance.value + rates[Event::retraction].chance.value, 5.0 / 1000, 2e-5);
    EXPECT_GT(rates[Event::travel].chance.value / before[Event::travel].chance.value, 1e5);
}

TEST(FitByLot, RefusesWhatCannotBeToldFromThePlainPart) {
    const Counts counts{.lots = {lot(1000, 3, {{Event::travel, 5}, {Event::retraction, 2}}, true)}};
    EXPECT_EQ(fitted(planning(), counts).error().code, "run.counts_not_apart");
    EXPECT_EQ(fitted(planning(), {}).error().code, "run.nothing_counted");
    EXPECT_EQ(fitted(planning(), {.lots = {lot(0, 0, {{Event::travel, 5}})}}).error().code, "run.nothing_counted");
}

TEST(FitByLot, FindsTheChancesThatCountsWereDrawnFrom) {
    std::mt19937_64 random(20'240'607);
    const double travel = 3e-6, ledge = 4e-5;
    int held_travel = 0, held_ledge = 0, runs = 40;
    for (int i = 0; i < runs; ++i) {
        Counts counts;
        for (const auto& [travels, mm] : {std::pair(40.0, 1.0), {10.0, 6.0}, {25.0, 0.0}}) {
            const double chance = 1 - std::pow(1 - travel, travels) * std::pow(1 - ledge, mm);
            std::binomial_distribution<int> draw(200'000, chance);
            counts.lots.push_back(lot(200'000, draw(random), {{Event::travel, travels}, {Event::ledge, mm}}));
        }
        const Rates rates = fitted(planning(), counts).value();
        const Interval t = *rates[Event::travel].interval, l = *rates[Event::ledge].interval;
        held_travel += t.low <= travel && travel <= t.high;
        held_ledge += l.low <= ledge && ledge <= l.high;
    }
    // 95 % of 40 are 38; fewer than 34 happen once in 70 such tests (binomial).
    EXPECT_GE(held_travel, 34);
    EXPECT_GE(held_ledge, 34);
}

} // namespace
} // namespace touchmark::run
