// SPDX-License-Identifier: MIT
#include "core/rules/fixes.h"
#include "core/rules/table.h"

#include <algorithm>

namespace touchmark::rules {
namespace {

double best_of(const process::Process& process, Mode mode) {
    double best = 0;
    for (const Zone zone : zones)
        if (const auto* entry = process.suitability_of(mode, zone)) best = std::max(best, entry->figure.value);
    return best;
}

std::string_view place_of(Zone zone) {
    switch (zone) {
    case Zone::bottom:
        return "on the plate";
    case Zone::overhang:
        return "on an overhang";
    case Zone::side_wall:
        return "on a side wall";
    case Zone::slope:
        return "on a slope";
    case Zone::top:
        return "on top";
    }
    std::unreachable();
}

std::vector<Finding> assess(const Context& context, const MarkView& view, std::size_t) {
    const Mode mode = view.mark->mode;
    const process::Suitability* entry = context.process.suitability_of(mode, view.zone);
    if (!entry || !view.map) return {};
    const double figure = entry->figure.value, best = best_of(context.process, mode);
    std::optional<Severity> severity;
    const process::Limit* limit = context.process.limit("suitability", mode, view.zone);
    if (limit) severity = at_least(figure, *limit);
    if (!severity && figure < best - same) severity = Severity::advice;
    if (!severity) return {};
    Finding finding = finding_of("zone", view, *severity);
    finding.figure = figure;
    finding.limit = limit ? limit->hard.value : best;
    finding.comfortable = best;
    finding.unit = "";
    finding.source = entry->figure.source;
    finding.message = "The mark is " + std::string(mode == Mode::engrave ? "engraved" : relief_of(mode)) + " " +
                      std::string(place_of(view.zone)) + ". " + entry->reason;
    locate_whole(finding, view);
    return {std::move(finding)};
}

/// What one would rather do there than `instead_of`.
std::string title_for(Mode mode, Mode instead_of) {
    if (mode == Mode::hidden) return "Hide it inside instead";
    return mode == Mode::engrave ? instead_of == Mode::raise ? "Engrave instead of raise" : "Engrave instead"
                                 : "Raise instead of engrave";
}

/// Another mode where this zone takes it better. Only what needs no second material and leaves no opening is offered.
void offer_mode(const Fixer& fixer, Finding& finding) {
    const MarkView& view = fixer.view();
    for (const Mode other : {Mode::engrave, Mode::raise, Mode::hidden}) {
        if (other == view.mark->mode) continue;
        const process::Suitability* entry = fixer.context().process.suitability_of(other, view.zone);
        if (!entry || entry->figure.value <= finding.figure + same) continue;
        Fix fix{std::string(key_of(other)), title_for(other, view.mark->mode), edit_mode(view.mark->id, other)};
        const auto trial = fixer.attempt(fix.edit, Need::widths);
        // Still not the best place, but a better figure is what is promised.
        if (trial && trial->severity.value_or(Severity::advice) >= finding.severity)
            finding.fixes.push_back(std::move(fix));
    }
}

} // namespace

void judge_zone(const Context& context, std::size_t mark, std::vector<Finding>& findings) {
    for (Finding& finding : assess(context, context.marks[mark], mark)) {
        const Fixer fixer(context, mark, &assess, finding.severity);
        if (context.what_if) {
            offer_mode(fixer, finding);
            offer_side_wall_face(fixer, finding);
            offer_stand(fixer, finding);
        }
        findings.push_back(std::move(finding));
    }
}

} // namespace touchmark::rules
