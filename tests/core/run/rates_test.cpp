// SPDX-License-Identifier: MIT
#include "core/run/rates.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include <fstream>

namespace touchmark::run {
namespace {

const std::filesystem::path planning = std::filesystem::path(TOUCHMARK_RESOURCES) / "rates" / "planning.json";

nlohmann::json planning_json() {
    std::ifstream stream(planning);
    return nlohmann::json::parse(stream);
}
std::string error_of(const nlohmann::json& json) {
    const auto rates = parse_rates(json.dump());
    return rates ? "" : rates.error().code + " " + rates.error().message;
}

TEST(PlanningFigures, AreAssumedAllOfThemAndSaySo) {
    const Rates rates = load_rates(planning).value();
    EXPECT_EQ(rates.fit, Fit::none);
    EXPECT_FALSE(rates.costs.unit); // nobody's figure but the shop's
    for (const EventKind& kind : event_kinds()) {
        const Rate& rate = rates[kind.event];
        EXPECT_TRUE(rate.chance.assumed) << kind.key;
        EXPECT_THAT(rate.chance.source, testing::StartsWith("assumed: ")) << kind.key;
        EXPECT_GT(rate.chance.value, 0) << kind.key;
        EXPECT_LT(rate.chance.value, 1e-3) << kind.key;
        EXPECT_FALSE(rate.interval);
    }
    // A retraction is worse than a travel, the plate worse than a top (common practice, no source).
    EXPECT_GT(rates[Event::retraction].chance.value, rates[Event::travel].chance.value);
    EXPECT_GT(rates[Event::first_layer_island].chance.value, rates[Event::raised_island].chance.value);
}

TEST(RatesFile, ComesBackAsItWasWritten) {
    Rates rates = load_rates(planning).value();
    rates.title = "Hall 3";
    rates.fit = Fit::apart;
    rates[Event::travel] = {{3.25e-7, "fitted from counts: 13 of 40000000", false}, Interval{1.73e-7, 5.56e-7}};
    rates.costs = {"CHF", 1.85, 4.5};
    const Rates again = parse_rates(text_of(rates)).value();
    EXPECT_EQ(again.title, "Hall 3");
    EXPECT_EQ(again.fit, Fit::apart);
    EXPECT_EQ(again[Event::travel].chance.value, 3.25e-7);
    EXPECT_EQ(again[Event::travel].interval, rates[Event::travel].interval);
    EXPECT_FALSE(again[Event::travel].chance.assumed);
    EXPECT_TRUE(again[Event::ledge].chance.assumed);
    EXPECT_EQ(again.costs.currency, "CHF");
    EXPECT_EQ(again.costs.unit, 1.85);
    EXPECT_EQ(again.costs.machine_hour, 4.5);
    EXPECT_EQ(text_of(again), text_of(rates));
}

TEST(RatesFile, IsRefusedWhereItIsWrongAndSaysWhere) {
    EXPECT_EQ(error_of(planning_json()), "");
    const auto changed = [](auto&& change) {
        nlohmann::json json = planning_json();
        change(json);
        return error_of(json);
    };
    using nlohmann::json;
    using testing::AllOf;
    using testing::HasSubstr;
    EXPECT_THAT(changed([](json& j) { j["rates"].erase("travel"); }),
                AllOf(HasSubstr("run.rates_malformed"), HasSubstr("travel")));
    EXPECT_THAT(changed([](json& j) { j["rates"]["travels"] = j["rates"]["travel"]; }), HasSubstr("travels"));
    EXPECT_THAT(changed([](json& j) { j["rates"]["travel"]["value"] = 1.5; }), HasSubstr("rates.travel.value"));
    EXPECT_THAT(changed([](json& j) { j["rates"]["travel"]["value"] = -0.1; }), HasSubstr("rates.travel.value"));
    EXPECT_THAT(changed([](json& j) { j["rates"]["ledge"]["unit"] = "1/m"; }), HasSubstr("rates.ledge.unit"));
    EXPECT_THAT(changed([](json& j) { j["rates"]["ledge"].erase("unit"); }), HasSubstr("unit"));
    EXPECT_THAT(changed([](json& j) { j["rates"]["travel"]["source"] = " "; }), HasSubstr("source"));
    EXPECT_THAT(changed([](json& j) { j["rates"]["travel"]["low"] = 1e-9; }), HasSubstr("high"));
    EXPECT_THAT(changed([](json& j) {
                    j["fit"] = "apart";
                    j["rates"]["travel"]["low"] = 2e-8, j["rates"]["travel"]["high"] = 3e-8;
                }),
                HasSubstr("rates.travel does not lie between"));
    EXPECT_THAT(changed([](json& j) { j["fit"] = "apart"; }), HasSubstr("only one without the other"));
    EXPECT_THAT(changed([](json& j) { j["fit"] = "well"; }), HasSubstr("\"well\""));
    EXPECT_THAT(changed([](json& j) { j["version"] = 2; }), HasSubstr("run.newer_version"));
    EXPECT_THAT(changed([](json& j) { j["format"] = "touchmark process"; }), HasSubstr("format"));
    EXPECT_THAT(changed([](json& j) { j["costs"] = {{"currency", "EUR"}, {"unit", -1}}; }), HasSubstr("costs.unit"));
    EXPECT_EQ(parse_rates("{").error().code, "run.rates_malformed");
    EXPECT_EQ(load_rates("/nowhere/rates.json").error().code, "file.not_found");
}

TEST(RatesSchema, NamesEachEventWithItsUnitAndNoOther) {
    std::ifstream stream(std::filesystem::path(TOUCHMARK_SOURCE_DIR) / "docs/rates.schema.json");
    const auto schema = nlohmann::json::parse(stream);
    const auto& rates = schema["properties"]["rates"];
    EXPECT_EQ(rates["properties"].size(), event_kinds().size());
    EXPECT_EQ(rates["required"].size(), event_kinds().size());
    EXPECT_FALSE(rates["additionalProperties"].get<bool>());
    for (const EventKind& kind : event_kinds()) {
        ASSERT_TRUE(rates["properties"].contains(kind.key)) << kind.key;
        const std::string text = rates["properties"][std::string(kind.key)].dump();
        if (!kind.unit.empty()) {
            EXPECT_THAT(text, testing::HasSubstr("\"" + std::string(kind.unit) + "\""));
        }
    }
    for (const char* key : {"$schema", "format", "version", "title", "fit", "rates", "costs"})
        EXPECT_TRUE(schema["properties"].contains(key)) << key;
}

} // namespace
} // namespace touchmark::run
