// SPDX-License-Identifier: MIT
#include "core/base/json.h"
#include "core/process/process.h"

#include <algorithm>

namespace touchmark::process {
namespace {

constexpr int newest_version = 1;

/// {"value": 0.4, "unit": "mm", "source": "…", "assumed": true}. An empty unit means that the figure has none.
Sourced read_sourced(const json::Node& node, std::string_view unit, double least, double most) {
    if (unit.empty()) {
        node.allow_only({"value", "source", "assumed"});
    } else {
        node.allow_only({"value", "unit", "source", "assumed"});
        const json::Node given = node["unit"];
        if (const std::string text = given.text(); !node.trouble() && text != unit)
            node.trouble().say_as("process.unit",
                                  given.path() + " is \"" + text + "\"; it must be \"" + std::string(unit) + "\".",
                                  "Convert the figure, then name the unit.");
    }
    Sourced figure;
    figure.value = node["value"].number(least, most);
    const json::Node source = node["source"];
    figure.source = source.text();
    if (!node.trouble() && figure.source.find_first_not_of(" \t\n") == std::string::npos)
        source.refuse("is empty", "Say where the figure comes from; \"assumed\" is an answer, silence is not.");
    if (const auto assumed = node.find("assumed")) figure.assumed = assumed->truth();
    return figure;
}

Sourced read_length(const json::Node& node) {
    return read_sourced(node, "mm", 0.01, 10);
}

template <class T>
T read_word(const json::Node& node, std::optional<T> (*from)(std::string_view), std::string_view all) {
    const std::string key = node.text();
    const std::optional<T> value = from(key);
    if (!value) node.refuse("is \"" + key + "\"; it must be one of " + std::string(all));
    return value.value_or(T{});
}
Mode read_mode(const json::Node& node) {
    return read_word(node, mode_from, "engrave, raise, hidden, inlay, through");
}
Zone read_zone(const json::Node& node) {
    return read_word(node, zone_from, "bottom, overhang, side_wall, slope, top");
}

ZoneLimits read_zones(const json::Node& node) {
    node.allow_only({"top_up_to", "slope_up_to", "side_wall_up_to", "overhang_up_to"});
    ZoneLimits zones;
    double previous = 0;
    const std::pair<const char*, Sourced*> entries[] = {{"top_up_to", &zones.top_up_to},
                                                        {"slope_up_to", &zones.slope_up_to},
                                                        {"side_wall_up_to", &zones.side_wall_up_to},
                                                        {"overhang_up_to", &zones.overhang_up_to}};
    for (const auto& [key, figure] : entries) {
        *figure = read_sourced(node[key], "deg", 0, 180);
        if (figure->value < previous) node[key].refuse("is smaller than the zone before it reaches");
        previous = figure->value;
    }
    return zones;
}

void read_wedge(const json::Node& node, Printing& printing) {
    node.allow_only({"steps", "source"});
    printing.wedge_source = node["source"].text();
    for (const json::Node& step : node["steps"].elements()) {
        step.allow_only({"thickness_mm", "log_transmission"});
        const WedgeStep next{step["thickness_mm"].number(0, 100), step["log_transmission"].number(-20, 0)};
        if (!printing.wedge.empty() && (next.thickness_mm <= printing.wedge.back().thickness_mm ||
                                        next.log_transmission > printing.wedge.back().log_transmission))
            step.refuse("is not thicker and darker than the step before it");
        printing.wedge.push_back(next);
    }
    if (printing.wedge.size() < 2) node["steps"].refuse("needs two steps at least");
}

Printing read_printing(const json::Node& node) {
    std::vector<std::string_view> keys{"wedge"};
    for (const Printing::Row& row : Printing::rows())
        keys.push_back(row.key);
    node.allow_only(keys);
    Printing printing;
    for (const Printing::Row& row : Printing::rows())
        printing.*row.figure = read_sourced(node[row.key], row.unit, row.least, row.most);
    if (const auto wedge = node.find("wedge")) read_wedge(*wedge, printing);
    return printing;
}

Suitability read_suitability(const json::Node& node) {
    node.allow_only({"zone", "mode", "figure", "reason"});
    Suitability entry;
    entry.zone = read_zone(node["zone"]);
    entry.mode = read_mode(node["mode"]);
    entry.figure = read_sourced(node["figure"], "", 0, 1);
    entry.reason = node["reason"].text();
    return entry;
}

Limit read_limit(const json::Node& node) {
    node.allow_only({"limit", "mode", "zone", "hard", "comfortable"});
    Limit entry;
    entry.key = node["limit"].text();
    const auto known = std::find_if(std::begin(limit_keys), std::end(limit_keys),
                                    [&](const LimitKey& row) { return row.key == entry.key; });
    if (known == std::end(limit_keys)) {
        node["limit"].refuse("is \"" + entry.key + "\", which no rule knows");
        return entry;
    }
    entry.unit = known->unit;
    if (const auto mode = node.find("mode")) entry.mode = read_mode(*mode);
    if (const auto zone = node.find("zone")) entry.zone = read_zone(*zone);
    entry.hard = read_sourced(node["hard"], entry.unit, 0, 1000);
    entry.comfortable = read_sourced(node["comfortable"], entry.unit, 0, 1000);
    if (known->least ? entry.hard.value > entry.comfortable.value : entry.hard.value < entry.comfortable.value)
        node["comfortable"].refuse(known->least ? "is smaller than the hard limit" : "is larger than the hard limit");
    return entry;
}

/// Two entries for the same thing would make one of them silently dead.
void refuse_doubles(const json::Node& root, const Process& process) {
    for (std::size_t i = 0; i < process.limits.size(); ++i)
        for (std::size_t k = 0; k < i; ++k) {
            const Limit &a = process.limits[i], &b = process.limits[k];
            if (a.key == b.key && a.mode == b.mode && a.zone == b.zone)
                root["limits"].elements()[i].refuse("repeats limits[" + std::to_string(k) + "]");
        }
    for (const Mode mode : modes)
        for (const Zone zone : zones) {
            const auto same = [&](const Suitability& s) { return s.mode == mode && s.zone == zone; };
            if (const auto n = std::count_if(process.suitability.begin(), process.suitability.end(), same); n != 1)
                root["suitability"].refuse("must rate " + std::string(key_of(mode)) + " in zone " +
                                           std::string(key_of(zone)) + " once, not " + std::to_string(n) + " times");
        }
}

void read_version(const json::Node& root) {
    if (const json::Node format = root["format"]; !root.trouble() && format.text() != "touchmark process")
        format.refuse("must be \"touchmark process\"", "Check that it is a process profile.");
    const auto version = root["version"].integer(1, 1'000'000);
    if (!root.trouble() && version > newest_version)
        root.trouble().say_as("process.newer_version",
                              "The profile has version " + std::to_string(version) + "; this program knows up to " +
                                  std::to_string(newest_version) + ".",
                              "Use a newer Touchmark.");
}

} // namespace

Result<Process> parse_process(std::string_view text, std::string id) {
    const Result<json::Value> parsed = json::parse(text, "process.malformed", {.bytes = 1u << 20});
    if (!parsed) return std::unexpected(parsed.error());
    json::Trouble trouble("process.malformed");
    const json::Node root(*parsed, "", trouble);
    read_version(root);
    root.allow_only({"$schema", "format", "version", "title", "material", "nozzle", "line_width", "layer_height",
                     "first_layer", "printing", "zones", "suitability", "limits"});

    Process process;
    process.id = std::move(id);
    process.title = root["title"].text();
    process.material = root["material"].text();
    process.nozzle_mm = read_length(root["nozzle"]);
    process.line_width_mm = read_length(root["line_width"]);
    process.layer_height_mm = read_length(root["layer_height"]);
    process.first_layer_mm = read_length(root["first_layer"]);
    if (const auto printing = root.find("printing")) process.printing = read_printing(*printing);
    process.zones = read_zones(root["zones"]);
    for (const json::Node& node : root["suitability"].elements())
        process.suitability.push_back(read_suitability(node));
    for (const json::Node& node : root["limits"].elements())
        process.limits.push_back(read_limit(node));
    if (!trouble) refuse_doubles(root, process);
    if (trouble) return std::unexpected(trouble.error());
    return process;
}

} // namespace touchmark::process
