// SPDX-License-Identifier: MIT
#include "core/base/json.h"
#include "core/run/rates.h"

namespace touchmark::run {
namespace {

constexpr std::string_view format = "touchmark rates";
constexpr int newest_version = 1;

Rate read_rate(const json::Node& node, std::string_view unit) {
    if (unit.empty()) {
        node.allow_only({"value", "source", "assumed", "low", "high"});
    } else {
        node.allow_only({"value", "unit", "source", "assumed", "low", "high"});
        const json::Node given = node["unit"];
        if (const std::string text = given.text(); !node.trouble() && text != unit)
            given.refuse("is \"" + text + "\"; it must be \"" + std::string(unit) + "\"");
    }
    Rate rate;
    rate.chance.value = node["value"].number(0, 1);
    const json::Node source = node["source"];
    rate.chance.source = source.text();
    if (!node.trouble() && rate.chance.source.find_first_not_of(" \t\n") == std::string::npos)
        source.refuse("is empty", "Say where the figure comes from; \"assumed\" is an answer, silence is not.");
    if (const auto assumed = node.find("assumed")) rate.chance.assumed = assumed->truth();
    if (node.find("low") || node.find("high")) {
        const Interval interval{node["low"].number(0, 1), node["high"].number(0, 1)};
        if (!node.trouble() && (interval.low > rate.chance.value || interval.high < rate.chance.value))
            node.refuse("does not lie between its low and high");
        rate.interval = interval;
    }
    return rate;
}

Costs read_costs(const json::Node& node) {
    constexpr double most = 1e9;
    node.allow_only({"currency", "unit", "machine_hour"});
    Costs costs;
    costs.currency = node["currency"].text(8);
    if (const auto unit = node.find("unit")) costs.unit = unit->number(0, most);
    if (const auto hour = node.find("machine_hour")) costs.machine_hour = hour->number(0, most);
    return costs;
}

} // namespace

Result<Rates> parse_rates(std::string_view text) {
    const Result<json::Value> parsed = json::parse(text, "run.rates_malformed", {.bytes = 1u << 20});
    if (!parsed) return std::unexpected(parsed.error());
    json::Trouble trouble("run.rates_malformed");
    const json::Node root(*parsed, "", trouble);
    json::read_version(
        root,
        {.name = format, .newest = newest_version, .newer_code = "run.newer_version", .is_a = "a file of event rates"});
    root.allow_only({"$schema", "format", "version", "title", "fit", "rates", "costs"});
    Rates out;
    out.title = root["title"].text(200);
    const json::Node rates = root["rates"];
    std::vector<std::string_view> keys;
    for (const EventKind& kind : event_kinds())
        keys.push_back(kind.key);
    rates.allow_only(keys);
    bool counted = false;
    for (const EventKind& kind : event_kinds()) {
        out[kind.event] = read_rate(rates[kind.key], kind.unit);
        counted = counted || out[kind.event].interval;
    }
    if (const auto fit = root.find("fit")) {
        const std::string key = fit->text();
        for (const Fit known : {Fit::apart, Fit::together})
            if (key == key_of(known)) out.fit = known;
        if (out.fit == Fit::none) fit->refuse("is \"" + key + "\"; it must be \"apart\" or \"together\"");
    }
    if (!trouble && counted != (out.fit != Fit::none))
        root.refuse("gives \"fit\" and figures with low and high only one without the other");
    if (const auto costs = root.find("costs")) out.costs = read_costs(*costs);
    if (trouble) return std::unexpected(trouble.error());
    return out;
}

std::string text_of(const Rates& rates) {
    nlohmann::ordered_json list = nlohmann::ordered_json::object();
    for (const EventKind& kind : event_kinds()) {
        const Rate& rate = rates[kind.event];
        nlohmann::ordered_json entry{{"value", rate.chance.value}};
        if (!kind.unit.empty()) entry["unit"] = kind.unit;
        if (rate.interval) entry["low"] = rate.interval->low, entry["high"] = rate.interval->high;
        entry["source"] = rate.chance.source;
        if (rate.chance.assumed) entry["assumed"] = true;
        list[std::string(kind.key)] = std::move(entry);
    }
    nlohmann::ordered_json root{{"format", format}, {"version", newest_version}, {"title", rates.title}};
    if (rates.fit != Fit::none) root["fit"] = key_of(rates.fit);
    root["rates"] = std::move(list);
    nlohmann::ordered_json costs{{"currency", rates.costs.currency}};
    if (rates.costs.unit) costs["unit"] = *rates.costs.unit;
    if (rates.costs.machine_hour) costs["machine_hour"] = *rates.costs.machine_hour;
    root["costs"] = std::move(costs);
    return root.dump(2, ' ', false, nlohmann::ordered_json::error_handler_t::replace) + "\n";
}

} // namespace touchmark::run
