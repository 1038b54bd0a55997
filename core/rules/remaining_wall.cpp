// SPDX-License-Identifier: MIT
#include "core/rules/fixes.h"
#include "core/rules/table.h"

#include "core/base/number_text.h"

namespace touchmark::rules {
namespace {

constexpr double step = 0.05;

std::vector<Finding> assess_cut(const Context& context, const MarkView& view) {
    const process::Limit* limit = context.process.limit("remaining_wall", view.mark->mode, view.zone);
    if (!limit || !view.wall) return {};
    const double wall = view.wall->thickness;
    const auto severity = at_least(wall, *limit);
    if (!severity) return {};
    Finding finding = finding_of("remaining_wall", view, *severity);
    set_figures(finding, wall, *limit);
    if (wall < same)
        finding.message = std::string(view.mark->mode == Mode::hidden ? "The void" : "The cut") +
                          " goes through the wall behind it; " + text_of(Mm(missed(finding))) + " has to remain.";
    else
        finding.message = std::string(view.mark->mode == Mode::hidden ? "Behind the void " : "Behind the cut ") +
                          apart(wall, missed(finding)) + " of wall remain; " + text_of(Mm(missed(finding))) +
                          (*severity == Severity::blocker ? " holds." : " is comfortable.");
    locate(finding, view, {view.wall->at}, std::max(2.0, 4 * limit->comfortable.value));
    return {std::move(finding)};
}

std::vector<Finding> assess_raised(const MarkView& view) {
    const double height = view.mark->depth.value;
    if (view.mark->mode != Mode::raise || !view.room_above || *view.room_above > height + same) return {};
    Finding finding = finding_of("remaining_wall", view, Severity::blocker);
    finding.figure = height;
    finding.limit = *view.room_above;
    finding.unit = "mm";
    finding.source = "computed: another face of the part is there";
    finding.message = "The mark is " + apart(height, *view.room_above) + " high, but another face of the part is " +
                      apart(*view.room_above, height) + " away.";
    locate_whole(finding, view);
    return {std::move(finding)};
}

std::vector<Finding> assess(const Context& context, const MarkView& view, std::size_t) {
    return view.mark->mode == Mode::raise ? assess_raised(view) : assess_cut(context, view);
}

/// The depth at which the rule falls silent, no shallower than the process can show.
void offer_shallower(const Fixer& fixer, Finding& finding) {
    const MarkView& view = fixer.view();
    const bool cut = view.mark->mode != Mode::raise;
    const double now = view.mark->depth.value;
    const process::Limit* least = fixer.context().process.limit("depth_min", view.mark->mode, view.zone);
    const double floor = least ? least->hard.value : step;
    for (const double wanted : {finding.comfortable.value_or(finding.limit), finding.limit}) {
        const double lack = cut ? wanted - finding.figure : now - *view.room_above + step;
        // Walls beside the cut do not thicken as fast as the floor rises, so a few steps more are tried.
        double depth = rounded_down(now - lack, step);
        for (int tries = 3; tries > 0 && depth >= floor - same; --tries, depth = rounded_down(depth - step, step))
            if (fixer.offer(finding,
                            {"shallower", (cut ? "Depth " : "Height off the face ") + change_of(now, depth),
                             edit_depth(view.mark->id, depth)},
                            Need::wall))
                return;
    }
}

} // namespace

void judge_remaining_wall(const Context& context, std::size_t mark, std::vector<Finding>& findings) {
    const MarkView& view = context.marks[mark];
    for (Finding& finding : assess(context, view, mark)) {
        const Fixer fixer(context, mark, &assess, finding.severity);
        if (context.what_if) {
            offer_shallower(fixer, finding);
            const bool cut = view.mark->mode != Mode::raise;
            if (finding.fixes.empty() || finding.severity == Severity::blocker)
                fixer.offer(finding,
                            {cut ? "raise" : "engrave", cut ? "Raise instead of engrave" : "Engrave instead of raise",
                             edit_mode(view.mark->id, cut ? Mode::raise : Mode::engrave)},
                            Need::wall);
            if (finding.fixes.empty()) offer_side_wall_face(fixer, finding);
        }
        findings.push_back(std::move(finding));
    }
}

} // namespace touchmark::rules
