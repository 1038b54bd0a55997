// SPDX-License-Identifier: MIT
#include "core/process/adjustment.h"

#include "core/process/figures.h"

#include <algorithm>
#include <cmath>
#include <set>

namespace touchmark::process {
namespace {

Status unknown(const std::string& key, std::string_view why) {
    return fail("process.unknown_figure", "The figure \"" + key + "\" " + std::string(why) + ".",
                "touchmark-cli processes --show ID lists the figures of a profile.");
}

/// What can be said of an adjustment alone.
Status sound(const Adjustment& adjustment) {
    const auto kind = kind_of(adjustment.key);
    if (!kind) return unknown(adjustment.key, "is none that a profile can have");
    const Sourced& figure = adjustment.figure;
    if (!(figure.value >= kind->least && figure.value <= kind->most))
        return fail("process.range",
                    adjustment.key + " is " + figure_text(figure.value) + "; it must be from " +
                        figure_text(kind->least) + " to " + figure_text(kind->most) +
                        (kind->unit.empty() ? "" : " " + kind->unit) + ".",
                    "Check the value and its unit.");
    if (figure.source.find_first_not_of(" \t\n") == std::string::npos)
        return fail("process.no_source", adjustment.key + " does not say where it comes from.",
                    "Say where the figure comes from; \"assumed\" is an answer, silence is not.");
    return {};
}

/// The entry that counts for such a mode and zone, and is no narrower than they.
const Limit* wider(const Process& process, const Limit& wanted) {
    const Limit* best = nullptr;
    int best_rank = -1;
    for (const Limit& entry : process.limits) {
        if (entry.key != wanted.key || (entry.mode && entry.mode != wanted.mode) ||
            (entry.zone && entry.zone != wanted.zone))
            continue;
        const int rank = (entry.zone ? 2 : 0) + (entry.mode ? 1 : 0);
        if (rank > best_rank) best = &entry, best_rank = rank;
    }
    return best;
}

/// "limits.KEY.MODE.ZONE.SIDE", known to kind_of().
Limit limit_of(std::string_view key) {
    std::vector<std::string> parts;
    for (std::size_t from = 0; from <= key.size();) {
        const std::size_t dot = std::min(key.find('.', from), key.size());
        parts.emplace_back(key.substr(from, dot - from));
        from = dot + 1;
    }
    Limit limit;
    limit.key = parts.at(1);
    limit.mode = mode_from(parts.at(2));
    limit.zone = zone_from(parts.at(3));
    limit.unit = kind_of(key)->unit;
    return limit;
}

/// Makes room for a figure that the base does not have: a limit of its own mode and zone.
Status make_room(Process& process, const std::string& key, std::span<const Adjustment> figures) {
    if (!key.starts_with("limits.")) return unknown(key, "is none that " + process.id + " has");
    Limit limit = limit_of(key);
    if (const Limit* from = wider(process, limit)) {
        limit.hard = from->hard;
        limit.comfortable = from->comfortable;
    } else {
        for (const char* end : {"hard", "comfortable"})
            if (std::ranges::find(figures, limit_key(limit, end), &Adjustment::key) == figures.end())
                return unknown(key, "belongs to a limit that " + process.id +
                                        " does not give; \"hard\" and \"comfortable\" are needed both");
    }
    process.limits.push_back(std::move(limit));
    return {};
}

Status in_order(const Process& process) {
    const ZoneLimits& zones = process.zones;
    const double angles[] = {zones.top_up_to.value, zones.slope_up_to.value, zones.side_wall_up_to.value,
                             zones.overhang_up_to.value};
    if (!std::ranges::is_sorted(angles))
        return fail("process.malformed", "The zones are not in order: top, slope, side wall, overhang.",
                    "Each reaches at least as far as the one before it.");
    for (const Limit& limit : process.limits) {
        const auto row = std::ranges::find(limit_keys, limit.key, &LimitKey::key);
        const double hard = limit.hard.value, comfortable = limit.comfortable.value;
        if (row->least ? hard > comfortable : hard < comfortable)
            return fail("process.malformed",
                        limit_key(limit, "hard") + " is " + figure_text(hard) + ", and \"comfortable\" is " +
                            figure_text(comfortable) + ".",
                        std::string("\"comfortable\" must not be ") + (row->least ? "smaller" : "larger") +
                            "; change it as well, and first where they are changed one by one.");
    }
    return {};
}

} // namespace

std::optional<Sourced> counted(const Process& process, std::string_view key) {
    if (const Sourced* own = figure_of(process, key)) return *own;
    if (!kind_of(key) || !key.starts_with("limits.")) return {};
    const Limit* from = wider(process, limit_of(key));
    if (!from) return {};
    return key.ends_with(".hard") ? from->hard : from->comfortable;
}

Result<Process> adjusted(const Process& base, std::span<const Adjustment> figures, std::string id, std::string title) {
    Process process = base;
    std::set<std::string_view> seen;
    for (const Adjustment& adjustment : figures) {
        if (Status good = sound(adjustment); !good) return std::unexpected(good.error());
        if (!seen.insert(adjustment.key).second)
            return fail("process.malformed", adjustment.key + " is given twice.", "Remove one.");
        if (!figure_of(std::as_const(process), adjustment.key))
            if (Status room = make_room(process, adjustment.key, figures); !room) return std::unexpected(room.error());
        *figure_of(process, adjustment.key) = adjustment.figure;
        for (Suitability& entry : process.suitability)
            if (figure_of(std::as_const(process), adjustment.key) == &entry.figure)
                entry.reason = adjustment.figure.source;
    }
    if (Status order = in_order(process); !order) return std::unexpected(order.error());
    process.id = std::move(id);
    process.title = std::move(title);
    return process;
}

Result<Process> derived(const Process& base, const Derivation& derivation, std::string id) {
    Result<Process> process = adjusted(base, derivation.figures, std::move(id), derivation.title);
    if (!process) return process;
    if (!derivation.material.empty()) process->material = derivation.material;
    if (!derivation.wedge.empty()) {
        if (!process->printing)
            return fail("process.unknown_figure", base.id + " has no simulated print to take a step wedge.",
                        "Stand the profile on one that has.");
        process->printing->wedge = derivation.wedge;
        process->printing->wedge_source = derivation.wedge_source;
    }
    return process;
}

} // namespace touchmark::process
