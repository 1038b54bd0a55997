// SPDX-License-Identifier: MIT
#pragma once

#include "core/print/layers.h"

#include <array>
#include <cstddef>
#include <optional>
#include <span>
#include <string_view>

namespace touchmark::run {

/// What a mark adds to a print and what can spoil the unit when it happens.
enum class Event { first_layer_island, raised_island, travel, retraction, ledge, outline };
inline constexpr std::size_t event_count = 6;
template <class T> using ByEvent = std::array<T, event_count>;
[[nodiscard]] constexpr std::size_t index_of(Event event) {
    return static_cast<std::size_t>(event);
}

struct EventKind {
    Event event;
    std::string_view key;   ///< in files: "first_layer_island"
    std::string_view title; ///< "Islands on the first layer"
    std::string_view unit;  ///< of a chance: "" each, "1/mm", "1/m"
    double (*count)(const print::Extra& extra);
};
/// Add new events here; in the order of Event.
[[nodiscard]] std::span<const EventKind, event_count> event_kinds();
[[nodiscard]] std::optional<Event> event_from(std::string_view key);
[[nodiscard]] inline const EventKind& kind_of(Event event) {
    return event_kinds()[index_of(event)];
}

[[nodiscard]] ByEvent<double> events_of(const print::Extra& extra);

} // namespace touchmark::run
