// SPDX-License-Identifier: MIT
#include "core/rules/fixes.h"
#include "core/rules/table.h"

#include "core/base/number_text.h"

#include <cmath>
#include <numbers>

namespace touchmark::rules {
namespace {

constexpr double degree = std::numbers::pi / 180;

/// How far the underside of a raised stroke rises as it comes off the face, degrees: by its draft, and by as much as
/// the face leans back.
double rise_of(const MarkView& view) {
    return view.mark->draft.value + std::asin(std::clamp(view.up, -1.0, 1.0)) / degree;
}

/// How far the underside juts out in one layer, mm. One that rises gets there layer by layer.
double ledge_of(const Context& context, const MarkView& view) {
    const double height = view.mark->depth.value, rise = rise_of(view);
    if (rise <= 0) return height;
    return std::min(height, context.process.layer_height_mm.value / std::tan(std::min(rise, 89.9) * degree));
}

std::vector<Finding> assess(const Context& context, const MarkView& view, std::size_t) {
    const process::Limit* limit = context.process.limit("ledge", view.mark->mode, view.zone);
    if (!limit || !view.drawn || !view.map || view.mark->mode != Mode::raise ||
        (view.zone != Zone::side_wall && view.zone != Zone::slope))
        return {};
    const double ledge = ledge_of(context, view);
    const auto severity = at_most(ledge, *limit);
    if (!severity) return {};
    Finding finding = finding_of("ledge", view, *severity);
    set_figures(finding, ledge, *limit);
    finding.message = "The undersides of the raised strokes jut out " + apart(ledge, missed(finding)) +
                      " in one layer with nothing below; " + text_of(Mm(missed(finding))) +
                      (*severity == Severity::blocker ? " holds with some sag." : " is carried.");
    locate_whole(finding, view);
    soften(finding);
    return {std::move(finding)};
}

/// The least draft, in whole degrees, whose underside is carried.
void offer_draft(const Fixer& fixer, Finding& finding) {
    const MarkView& view = fixer.view();
    const double layer = fixer.context().process.layer_height_mm.value;
    const double back = rise_of(view) - view.mark->draft.value;
    const double draft = std::ceil(std::atan2(layer, *finding.comfortable) / degree - back - same);
    const job::Parameter& row = *job::parameter("draft");
    if (draft <= view.mark->draft.value || draft > row.most) return;
    fixer.offer(finding,
                {"draft", "Draft " + short_number(view.mark->draft.value) + " → " + short_number(draft) + "°",
                 edit_parameter(view.mark->id, "draft", draft)},
                Need::widths);
}

} // namespace

void judge_ledge(const Context& context, std::size_t mark, std::vector<Finding>& findings) {
    const MarkView& view = context.marks[mark];
    for (Finding& finding : assess(context, view, mark)) {
        const Fixer fixer(context, mark, &assess, finding.severity);
        offer_draft(fixer, finding);
        for (const double limit : {*finding.comfortable, finding.limit}) {
            const double height = rounded_down(limit, 0.05);
            if (height <= 0 || height >= view.mark->depth.value) continue;
            fixer.offer(finding,
                        {"lower", "Height off the face " + change_of(view.mark->depth.value, height),
                         edit_depth(view.mark->id, height)},
                        Need::widths);
        }
        fixer.offer(finding, {"engrave", "Engrave instead of raise", edit_mode(view.mark->id, Mode::engrave)},
                    Need::widths);
        findings.push_back(std::move(finding));
    }
}

} // namespace touchmark::rules
