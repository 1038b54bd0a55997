// SPDX-License-Identifier: MIT
#include "core/run/events.h"

#include <algorithm>

namespace touchmark::run {

std::span<const EventKind, event_count> event_kinds() {
    using print::Extra;
    static constexpr EventKind table[] = {
        {Event::first_layer_island, "first_layer_island", "Islands on the first layer", "",
         [](const Extra& extra) { return static_cast<double>(extra.first_layer_islands); }},
        {Event::raised_island, "raised_island", "Islands raised on a top", "",
         [](const Extra& extra) { return static_cast<double>(extra.raised_islands); }},
        {Event::travel, "travel", "Travels", "", [](const Extra& extra) { return static_cast<double>(extra.travels); }},
        {Event::retraction, "retraction", "Retractions", "",
         [](const Extra& extra) { return static_cast<double>(extra.retractions); }},
        {Event::ledge, "ledge", "Lines that hang free", "1/mm",
         [](const Extra& extra) { return extra.unsupported_mm; }},
        {Event::outline, "outline", "Outline", "1/m", [](const Extra& extra) { return extra.outline_mm / 1000; }},
    };
    static_assert(std::size(table) == event_count);
    return table;
}

std::optional<Event> event_from(std::string_view key) {
    const auto kinds = event_kinds();
    const auto found = std::ranges::find(kinds, key, &EventKind::key);
    return found == kinds.end() ? std::nullopt : std::optional(found->event);
}

ByEvent<double> events_of(const print::Extra& extra) {
    ByEvent<double> out{};
    for (const EventKind& kind : event_kinds())
        out[index_of(kind.event)] = kind.count(extra);
    return out;
}

} // namespace touchmark::run
