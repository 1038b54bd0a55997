// SPDX-License-Identifier: MIT
#include "core/run/counts.h"

#include <algorithm>
#include <charconv>
#include <cmath>

namespace touchmark::run {
namespace {

constexpr double most = 1e15;

std::unexpected<Error> malformed(std::string what) {
    return fail("run.counts_malformed", "The table of counts " + std::move(what) + ".",
                "See the page \"Over the run\" of the documentation for its columns.");
}

std::string place(std::size_t row, std::string_view column) {
    return "has in row " + std::to_string(row + 1) + ", column \"" + std::string(column) + "\", ";
}

class Reader {
public:
    Reader(const content::Table& table, const EventsOfMark& events_of_mark)
        : table_(table), events_of_mark_(events_of_mark) {}

    Result<Counts> read() {
        const auto printed = table_.column("printed"), rejected = table_.column("rejected");
        if (!printed || !rejected) return malformed("needs the columns \"printed\" and \"rejected\"");
        const auto event = table_.column("event"), mark = table_.column("mark");
        bool features = false;
        for (const EventKind& kind : event_kinds())
            features = features || table_.column(kind.key);
        if (event && (mark || features)) return malformed("counts by event and by lot at once: \"event\" stands alone");
        if (!event && !mark && !features)
            return malformed("needs a column \"event\", a column \"mark\", or columns named by events");
        if (mark && features) return malformed("names marks and says what is in them: one of the two");
        note_ignored();
        for (std::size_t row = 0; row < table_.rows(); ++row)
            if (const Status done = event ? add_tally(row, *event) : add_lot(row, mark); !done)
                return std::unexpected(done.error());
        return std::move(counts_);
    }

private:
    void note_ignored() {
        for (const std::string& column : table_.columns()) {
            const bool known = event_from(column) || column == "printed" || column == "rejected" || column == "event" ||
                               column == "mark" || column == "plain_part";
            if (!known) counts_.ignored.push_back(column);
        }
    }

    Result<double> number(std::size_t row, std::string_view column) const {
        std::string_view text = table_.cell(row, *table_.column(column));
        while (text.starts_with(' '))
            text.remove_prefix(1);
        while (text.ends_with(' '))
            text.remove_suffix(1);
        double value = 0;
        const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
        if (error != std::errc() || end != text.data() + text.size() || !(value >= 0) || value > most)
            return malformed(place(row, column) + "\"" + std::string(text) + "\" where a number from 0 on is wanted");
        return value;
    }

    Result<std::pair<double, double>> counted(std::size_t row) const {
        const auto printed = number(row, "printed"), rejected = number(row, "rejected");
        if (!printed) return std::unexpected(printed.error());
        if (!rejected) return std::unexpected(rejected.error());
        if (*rejected > *printed) return malformed(place(row, "rejected") + "more than were printed");
        return std::pair(*printed, *rejected);
    }

    Status add_tally(std::size_t row, std::size_t event_column) {
        const std::string& key = table_.cell(row, event_column);
        const auto event = event_from(key);
        if (!event) {
            std::string all;
            for (const EventKind& kind : event_kinds())
                all += (all.empty() ? "" : ", ") + std::string(kind.key);
            return malformed(place(row, "event") + "\"" + key + "\"; it must be one of " + all);
        }
        const auto figures = counted(row);
        if (!figures) return std::unexpected(figures.error());
        counts_.tallies.push_back({*event, figures->first, figures->second});
        return {};
    }

    Status add_lot(std::size_t row, const std::optional<std::size_t>& mark_column) {
        Lot lot;
        const auto figures = counted(row);
        if (!figures) return std::unexpected(figures.error());
        std::tie(lot.printed, lot.rejected) = *figures;
        if (mark_column) {
            const std::string& name = table_.cell(row, *mark_column);
            const auto events = events_of_mark_ ? events_of_mark_(name) : std::nullopt;
            if (!events) return malformed(place(row, "mark") + "\"" + name + "\", which the job does not have");
            lot.events = *events;
        }
        for (const EventKind& kind : event_kinds()) {
            if (!table_.column(kind.key)) continue;
            const auto count = number(row, kind.key);
            if (!count) return std::unexpected(count.error());
            lot.events[index_of(kind.event)] = *count;
        }
        if (table_.column("plain_part")) {
            const auto plain = number(row, "plain_part");
            if (!plain) return std::unexpected(plain.error());
            if (*plain != 0 && *plain != 1) return malformed(place(row, "plain_part") + "neither 0 nor 1");
            lot.plain_part = *plain == 1;
        }
        counts_.lots.push_back(lot);
        return {};
    }

    const content::Table& table_;
    const EventsOfMark& events_of_mark_;
    Counts counts_;
};

} // namespace

Result<Counts> read_counts(const content::Table& table, const EventsOfMark& events_of_mark) {
    return Reader(table, events_of_mark).read();
}

} // namespace touchmark::run
