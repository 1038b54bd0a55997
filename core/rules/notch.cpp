// SPDX-License-Identifier: MIT
#include "core/rules/fixes.h"
#include "core/rules/table.h"

#include "core/base/number_text.h"

namespace touchmark::rules {
namespace {

bool bears_load(const Context& context, const MarkView& view) {
    const job::ClearFace* face = job::kept_clear(context.job, view.mark->anchor.face);
    return face && face->reason == job::ClearReason::load_bearing;
}

/// How deep a cut goes in, with what lies over a void.
double reach_of(const job::Mark& mark) {
    return mark.depth.value + (mark.mode == Mode::hidden ? mark.cover.value : 0);
}

/// Of the wall at its thinnest place; a raised mark and one that goes through have none.
std::vector<Finding> assess_share(const Context& context, const MarkView& view, std::size_t) {
    const process::Limit* limit = context.process.limit("wall_share", view.mark->mode, view.zone);
    if (!limit || !view.wall || view.mark->mode == Mode::raise || view.mark->mode == Mode::through) return {};
    const double cut = reach_of(*view.mark), rest = std::max(0.0, view.wall->thickness);
    const double taken = view.mark->mode == Mode::hidden ? view.mark->depth.value : cut;
    const double share = 100 * taken / (cut + rest);
    const auto severity = at_most(share, *limit);
    if (!severity) return {};
    Finding finding = finding_of("notch", view, *severity);
    set_figures(finding, share, *limit);
    finding.message = "Of a wall of " + text_of(Mm(cut + rest)) + " the mark takes " + text_of(Mm(taken)) + ", " +
                      short_number(share) + " %: it bends and breaks there first.";
    locate(finding, view, {view.wall->at}, std::max(2.0, 4 * cut));
    if (!bears_load(context, view))
        soften(finding);
    else
        finding.severity = Severity::warning;
    return {std::move(finding)};
}

/// Sharp corners at the floor of a cut in a load-bearing face.
std::vector<Finding> assess_corner(const Context& context, const MarkView& view, std::size_t) {
    const process::Limit* limit = context.process.limit("floor_radius", view.mark->mode, view.zone);
    const Mode mode = view.mark->mode;
    if (!limit || !view.drawn || !view.map || (mode != Mode::engrave && mode != Mode::inlay) ||
        !bears_load(context, view))
        return {};
    const double radius = view.mark->floor_rounding.value;
    const auto severity = at_least(radius, *limit);
    if (!severity) return {};
    Finding finding = finding_of("notch", view, *severity);
    set_figures(finding, radius, *limit);
    finding.message = (radius > 0 ? "The floor's radius is " + apart(radius, missed(finding))
                                  : std::string("The cut has a sharp corner along its floor")) +
                      ", a notch in a load-bearing face; " + text_of(Mm(missed(finding))) +
                      " eases it. Whether it may be cut at all is for the engineer responsible for it to say.";
    locate_whole(finding, view);
    soften(finding);
    return {std::move(finding)};
}

void offer_shallower(const Fixer& fixer, Finding& finding) {
    const job::Mark& mark = *fixer.view().mark;
    const process::Limit* least = fixer.context().process.limit("depth_min", mark.mode, fixer.view().zone);
    if (!fixer.view().wall) return;
    const double whole = reach_of(mark) + std::max(0.0, fixer.view().wall->thickness);
    double depth = rounded_down(*finding.comfortable / 100 * whole, 0.05);
    // Walls beside the cut do not thicken as fast as the floor rises.
    for (int tries = 3; tries > 0 && depth >= (least ? least->hard.value : 0.05) - same;
         --tries, depth = rounded_down(depth - 0.05, 0.05))
        if (depth < mark.depth.value &&
            fixer.offer(finding,
                        {"shallower", "Depth " + change_of(mark.depth.value, depth), edit_depth(mark.id, depth)},
                        Need::wall))
            return;
}

} // namespace

void judge_notch(const Context& context, std::size_t mark, std::vector<Finding>& findings) {
    const MarkView& view = context.marks[mark];
    for (Finding& finding : assess_share(context, view, mark)) {
        const Fixer fixer(context, mark, &assess_share, finding.severity);
        offer_shallower(fixer, finding);
        fixer.offer(finding, {"raise", "Raise instead of engrave", edit_mode(view.mark->id, Mode::raise)}, Need::wall);
        findings.push_back(std::move(finding));
    }
    for (Finding& finding : assess_corner(context, view, mark)) {
        const Fixer fixer(context, mark, &assess_corner, finding.severity);
        const double radius = rounded_up(*finding.comfortable, 0.05);
        fixer.offer(finding,
                    {"floor_rounding", "Floor radius " + change_of(view.mark->floor_rounding.value, radius),
                     edit_parameter(view.mark->id, "floor_rounding", radius)},
                    Need::widths);
        fixer.offer(finding, {"raise", "Raise instead of engrave", edit_mode(view.mark->id, Mode::raise)}, Need::wall);
        offer_side_wall_face(fixer, finding);
        findings.push_back(std::move(finding));
    }
}

} // namespace touchmark::rules
