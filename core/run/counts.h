// SPDX-License-Identifier: MIT
#pragma once

#include "core/content/table.h"
#include "core/run/events.h"

#include <functional>

namespace touchmark::run {

/// So many events of one kind were printed, so many units rejected because of one.
struct EventTally {
    Event event{};
    double printed = 0, rejected = 0;
};

/// So many units alike were printed, so many rejected.
struct Lot {
    ByEvent<double> events{}; ///< in one unit
    bool plain_part = false;  ///< what rejects the plain part is among the rejects
    double printed = 0, rejected = 0;
};

/// A shop's own counts.
struct Counts {
    std::vector<EventTally> tallies{};
    std::vector<Lot> lots{};
    std::vector<std::string> ignored{}; ///< columns that mean nothing here
};

/// What one unit has of a mark of this name; nullopt: there is none.
using EventsOfMark = std::function<std::optional<ByEvent<double>>(std::string_view mark)>;

/// Two forms, told apart by their columns.
/// By event: `event` (a key of event_kinds()), `printed`, `rejected`: events printed, units rejected because of one.
/// By lot: `printed`, `rejected` (units), and what one unit has of each event in columns named by their keys, or the
/// name of a mark in `mark`; `plain_part`, 1 where the rejects hold those that the part has without a mark too, else 0.
/// Other columns are ignored, and named. Errors: "run.counts_malformed", naming the row and the column.
[[nodiscard]] Result<Counts> read_counts(const content::Table& table, const EventsOfMark& events_of_mark);

} // namespace touchmark::run
