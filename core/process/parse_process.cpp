// SPDX-License-Identifier: MIT
#include "core/base/json.h"
#include "core/process/figure_ranges.h"
#include "core/process/read_figures.h"

#include <algorithm>

namespace touchmark::process {
namespace {

ZoneLimits read_zones(const json::Node& node) {
    node.allow_only({"top_up_to", "slope_up_to", "side_wall_up_to", "overhang_up_to"});
    ZoneLimits zones;
    double previous = 0;
    const std::pair<const char*, Sourced*> entries[] = {{"top_up_to", &zones.top_up_to},
                                                        {"slope_up_to", &zones.slope_up_to},
                                                        {"side_wall_up_to", &zones.side_wall_up_to},
                                                        {"overhang_up_to", &zones.overhang_up_to}};
    for (const auto& [key, figure] : entries) {
        *figure = read_sourced(node[key], "deg", 0, most_angle_deg);
        if (figure->value < previous) node[key].refuse("is smaller than the zone before it reaches");
        previous = figure->value;
    }
    return zones;
}

Printing read_printing(const json::Node& node) {
    std::vector<std::string_view> keys{"wedge"};
    for (const Printing::Row& row : Printing::rows())
        keys.push_back(row.key);
    node.allow_only(keys);
    Printing printing;
    for (const Printing::Row& row : Printing::rows())
        printing.*row.figure = read_sourced(node[row.key], row.unit, row.least, row.most);
    if (const auto wedge = node.find("wedge")) read_wedge(*wedge, printing.wedge, printing.wedge_source);
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
    entry.hard = read_sourced(node["hard"], entry.unit, 0, most_limit);
    entry.comfortable = read_sourced(node["comfortable"], entry.unit, 0, most_limit);
    if (known->least ? entry.hard.value > entry.comfortable.value : entry.hard.value < entry.comfortable.value)
        node["comfortable"].refuse(known->least ? "is smaller than the hard limit" : "is larger than the hard limit");
    return entry;
}

void refuse_lines(const json::Node& root, const Process& process) {
    for (std::size_t i = 0; i < process.limits.size(); ++i)
        if (process.limits[i].unit == "lines")
            root["limits"].elements()[i].refuse("is counted in lines, and the process has no nozzle that lays any");
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

} // namespace

Result<Process> parse_process(std::string_view text, std::string id) {
    const Result<json::Value> parsed = json::parse(text, "process.malformed", {.bytes = 1u << 20});
    if (!parsed) return std::unexpected(parsed.error());
    json::Trouble trouble("process.malformed");
    const json::Node root(*parsed, "", trouble);
    json::read_version(root, process_format);
    root.allow_only({"$schema", "format", "version", "title", "material", "nozzle", "line_width", "layer_height",
                     "first_layer", "printing", "zones", "suitability", "limits"});

    Process process;
    process.id = std::move(id);
    process.title = root["title"].text();
    process.material = root["material"].text();
    // What lays lines through a nozzle has both, and may be printed in simulation; anything else has none of the three.
    const bool has_nozzle = root.find("nozzle") || root.find("line_width") || root.find("printing");
    if (has_nozzle) {
        process.nozzle_mm = read_length(root["nozzle"]);
        process.line_width_mm = read_length(root["line_width"]);
    }
    process.layer_height_mm = read_length(root["layer_height"]);
    process.first_layer_mm = read_length(root["first_layer"]);
    if (const auto printing = root.find("printing")) process.printing = read_printing(*printing);
    process.zones = read_zones(root["zones"]);
    for (const json::Node& node : root["suitability"].elements())
        process.suitability.push_back(read_suitability(node));
    for (const json::Node& node : root["limits"].elements())
        process.limits.push_back(read_limit(node));
    if (!trouble) refuse_doubles(root, process);
    if (!trouble && !has_nozzle) refuse_lines(root, process);
    if (trouble) return std::unexpected(trouble.error());
    return process;
}

} // namespace touchmark::process
