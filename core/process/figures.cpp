// SPDX-License-Identifier: MIT
#include "core/process/figures.h"

#include "core/process/figure_ranges.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <charconv>

namespace touchmark::process {
namespace {

constexpr std::string_view every = "any";

std::vector<std::string_view> split(std::string_view key) {
    std::vector<std::string_view> parts;
    for (;;) {
        const std::size_t dot = key.find('.');
        parts.push_back(key.substr(0, dot));
        if (dot == std::string_view::npos) return parts;
        key.remove_prefix(dot + 1);
    }
}

struct MachineRow {
    std::string_view key, what, help;
    Sourced Process::* figure;
};
constexpr MachineRow machine_rows[] = {
    {"nozzle", "Nozzle", "Diameter of the nozzle's opening", &Process::nozzle_mm},
    {"line_width", "Line width", "Width of an extruded line", &Process::line_width_mm},
    {"layer_height", "Layer height", "Height of a layer", &Process::layer_height_mm},
    {"first_layer", "First layer", "Height of the first layer; a face within half of it of the plate touches the plate",
     &Process::first_layer_mm},
};

struct ZoneRow {
    std::string_view key, what, help;
    Sourced ZoneLimits::* figure;
};
constexpr ZoneRow zone_rows[] = {
    {"top_up_to", "Top up to", "Angle of the face's normal to straight up", &ZoneLimits::top_up_to},
    {"slope_up_to", "Slope up to", "Angle of the face's normal to straight up", &ZoneLimits::slope_up_to},
    {"side_wall_up_to", "Side wall up to", "Angle of the face's normal to straight up; beyond it a face hangs over",
     &ZoneLimits::side_wall_up_to},
    {"overhang_up_to", "Overhang up to", "Beyond it a face is bottom where it touches the plate",
     &ZoneLimits::overhang_up_to},
};

struct PrintingWords {
    std::string_view key, what, help;
};
constexpr PrintingWords printing_words[] = {
    {"bead_spread", "Bead spread", "How much wider a line comes out than planned, on each side"},
    {"smoothing", "Smoothing", "What a corner of the path is rounded by, as a standard deviation in nozzle diameters"},
    {"first_layer_spread", "First layer's spread", "How much wider a line comes out on the plate, on each side"},
    {"least_line", "Least line", "A narrower stroke of material is left out"},
    {"least_island", "Least island", "A smaller island on the plate comes off"},
    {"supported", "Supported", "Share of a line's width that may hang over the layer below"},
    {"ledge_sag", "Sag of a ledge", "How far an unsupported line at the end of a ledge sags, in layers"},
    {"bridge_sag", "Sag of a bridge", "How far a line sags in the middle of what it spans, as a share of the span"},
    {"ripple", "Ripple", "Depth of the groove between two layers, in layers"},
    {"speed", "Speed", "Of the outlines"},
    {"travel_speed", "Travel speed", "Between islands"},
    {"retraction", "Retraction", "Time of one, back and forth"},
    {"least_layer_time", "Least layer time", "A layer below it waits, or does not cool"},
    {"attenuation", "Attenuation",
     "Of light in the material, as the natural logarithm of the ratio a mm; used where "
     "there is no step wedge"},
    {"scatter", "Scatter", "Blur under a skin that is lit from behind, as a standard deviation in thicknesses of it"},
};

template <class Rows> auto row_of(const Rows& rows, std::string_view key) -> decltype(&*std::begin(rows)) {
    const auto at = std::find_if(std::begin(rows), std::end(rows), [&](const auto& row) { return row.key == key; });
    return at == std::end(rows) ? nullptr : &*at;
}
const Printing::Row* printing_row(std::string_view key) {
    for (const Printing::Row& row : Printing::rows())
        if (row.key == key) return &row;
    return nullptr;
}

struct LimitPlace {
    const LimitKey* row = nullptr;
    std::optional<Mode> mode;
    std::optional<Zone> zone;
    bool hard = true;
};
std::optional<LimitPlace> limit_place(const std::vector<std::string_view>& parts) {
    if (parts.size() != 5 || parts[0] != "limits") return {};
    LimitPlace place{row_of(limit_keys, parts[1]), mode_from(parts[2]), zone_from(parts[3]), parts[4] == "hard"};
    const bool known = place.row && (place.mode || parts[2] == every) && (place.zone || parts[3] == every) &&
                       (place.hard || parts[4] == "comfortable");
    return known ? std::optional(place) : std::nullopt;
}

std::string capital(std::string_view text) {
    std::string out(text);
    if (!out.empty() && out[0] >= 'a' && out[0] <= 'z') out[0] = static_cast<char>(out[0] - 'a' + 'A');
    return out;
}
std::string small(std::string_view text) {
    std::string out(text);
    if (!out.empty() && out[0] >= 'A' && out[0] <= 'Z') out[0] = static_cast<char>(out[0] - 'A' + 'a');
    return out;
}

/// Which limits are of what prints but may not serve; see limit_keys.
bool serves(const LimitKey& row) {
    const auto from = std::find_if(std::begin(limit_keys), std::end(limit_keys),
                                   [](const LimitKey& key) { return key.key == "islands"; });
    return &row >= &*from;
}

FigureWords limit_words(const LimitPlace& place) {
    FigureWords words{.group = "Limits", .what = capital(place.row->what), .where = {}, .sense = {}, .help = {}};
    if (place.mode) words.where = title_of(*place.mode);
    if (place.zone)
        words.where += (place.mode ? ", " + small(title_of(*place.zone)) : std::string(title_of(*place.zone)));
    const std::string_view side = place.row->least ? " below" : " above";
    if (place.hard)
        words.sense = std::string(serves(*place.row) ? "at risk" : "will not print") + std::string(side);
    else
        words.sense = std::string(serves(*place.row) ? "advice" : "at risk") + std::string(side);
    return words;
}

/// The two figures of a pair that a limit, or anything else, is kept in: one lookup for both constnesses.
template <class P> auto find(P& process, std::string_view key) -> decltype(&process.nozzle_mm) {
    const auto parts = split(key);
    if (parts.size() == 1) {
        const MachineRow* row = row_of(machine_rows, key);
        if (!row) return nullptr;
        auto* figure = &(process.*row->figure);
        return figure->source.empty() ? nullptr : figure;
    }
    if (parts.size() == 2 && parts[0] == "printing") {
        const Printing::Row* row = printing_row(parts[1]);
        return row && process.printing ? &((*process.printing).*row->figure) : nullptr;
    }
    if (parts.size() == 2 && parts[0] == "zones") {
        const ZoneRow* row = row_of(zone_rows, parts[1]);
        return row ? &(process.zones.*row->figure) : nullptr;
    }
    if (parts.size() == 3 && parts[0] == "suitability") {
        for (auto& entry : process.suitability)
            if (key_of(entry.mode) == parts[1] && key_of(entry.zone) == parts[2]) return &entry.figure;
        return nullptr;
    }
    if (const auto place = limit_place(parts))
        for (auto& entry : process.limits)
            if (entry.key == place->row->key && entry.mode == place->mode && entry.zone == place->zone)
                return place->hard ? &entry.hard : &entry.comfortable;
    return nullptr;
}

} // namespace

std::optional<FigureKind> kind_of(std::string_view key) {
    const auto parts = split(key);
    if (parts.size() == 1 && row_of(machine_rows, key)) return FigureKind{"mm", least_size_mm, most_size_mm};
    if (parts.size() == 2 && parts[0] == "printing")
        if (const Printing::Row* row = printing_row(parts[1]))
            return FigureKind{std::string(row->unit), row->least, row->most};
    if (parts.size() == 2 && parts[0] == "zones" && row_of(zone_rows, parts[1]))
        return FigureKind{"deg", 0, most_angle_deg};
    if (parts.size() == 3 && parts[0] == "suitability" && mode_from(parts[1]) && zone_from(parts[2]))
        return FigureKind{"", 0, 1};
    if (const auto place = limit_place(parts)) return FigureKind{std::string(place->row->unit), 0, most_limit};
    return {};
}

std::string limit_key(const Limit& limit, std::string_view hard_or_comfortable) {
    std::string key = "limits." + limit.key + ".";
    key += limit.mode ? key_of(*limit.mode) : every;
    key += ".";
    key += limit.zone ? key_of(*limit.zone) : every;
    return key + "." + std::string(hard_or_comfortable);
}

const Sourced* figure_of(const Process& process, std::string_view key) {
    return find(process, key);
}
Sourced* figure_of(Process& process, std::string_view key) {
    return find(process, key);
}

std::string figure_text(double value) {
    std::array<char, 400> buffer{};
    const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value, std::chars_format::fixed);
    return {buffer.data(), end.ptr};
}

FigureWords words_of(std::string_view key) {
    const auto parts = split(key);
    const auto plain = [](std::string_view group, const auto& row) {
        return FigureWords{std::string(group), std::string(row.what), {}, {}, std::string(row.help)};
    };
    if (const MachineRow* row = row_of(machine_rows, key)) return plain("Machine", *row);
    if (parts[0] == "printing") return plain("Simulated print", *row_of(printing_words, parts.at(1)));
    if (parts[0] == "zones") return plain("Zones", *row_of(zone_rows, parts.at(1)));
    if (parts[0] == "suitability")
        return {"Suitability",
                "How well the zone takes the mark",
                std::string(title_of(*mode_from(parts.at(1)))) + ", " + small(title_of(*zone_from(parts.at(2)))),
                {},
                "1 best, 0 avoid; colours the part and warns of poor places"};
    const auto place = limit_place(parts);
    assert(place && "REQUIRES: kind_of(key)");
    return limit_words(*place);
}

std::vector<std::string> figure_keys(const Process& process) {
    std::vector<std::string> keys;
    for (const MachineRow& row : machine_rows)
        if (!(process.*row.figure).source.empty()) keys.emplace_back(row.key);
    if (process.printing)
        for (const Printing::Row& row : Printing::rows())
            keys.push_back("printing." + std::string(row.key));
    for (const ZoneRow& row : zone_rows)
        keys.push_back("zones." + std::string(row.key));
    for (const Suitability& entry : process.suitability)
        keys.push_back("suitability." + std::string(key_of(entry.mode)) + "." + std::string(key_of(entry.zone)));
    for (const Limit& limit : process.limits)
        for (const char* end : {"hard", "comfortable"})
            keys.push_back(limit_key(limit, end));
    return keys;
}

} // namespace touchmark::process
