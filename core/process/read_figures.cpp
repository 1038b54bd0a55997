// SPDX-License-Identifier: MIT
#include "core/process/read_figures.h"

#include "core/process/figure_ranges.h"

namespace touchmark::process {
namespace {

template <class T>
T read_word(const json::Node& node, std::optional<T> (*from)(std::string_view), std::string_view all) {
    const std::string key = node.text();
    const std::optional<T> value = from(key);
    if (!value) node.refuse("is \"" + key + "\"; it must be one of " + std::string(all));
    return value.value_or(T{});
}

} // namespace

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
    return read_sourced(node, "mm", least_size_mm, most_size_mm);
}

Mode read_mode(const json::Node& node) {
    return read_word(node, mode_from, "engrave, raise, hidden, inlay, through");
}
Zone read_zone(const json::Node& node) {
    return read_word(node, zone_from, "bottom, overhang, side_wall, slope, top");
}

void read_wedge(const json::Node& node, std::vector<WedgeStep>& wedge, std::string& source) {
    node.allow_only({"steps", "source"});
    source = node["source"].text();
    for (const json::Node& step : node["steps"].elements()) {
        step.allow_only({"thickness_mm", "log_transmission"});
        const WedgeStep next{step["thickness_mm"].number(0, 100), step["log_transmission"].number(-20, 0)};
        if (!wedge.empty() &&
            (next.thickness_mm <= wedge.back().thickness_mm || next.log_transmission > wedge.back().log_transmission))
            step.refuse("is not thicker and darker than the step before it");
        wedge.push_back(next);
    }
    if (wedge.size() < 2) node["steps"].refuse("needs two steps at least");
}

} // namespace touchmark::process
