// SPDX-License-Identifier: MIT
#include "core/rules/fixes.h"
#include "core/rules/table.h"

#include "core/base/number_text.h"

#include <cmath>

namespace touchmark::rules {
namespace {

/// How far lettering is turned from upright; nullopt where its face looks up or down and has no upright.
std::optional<double> turned(const MarkView& view) {
    if (!view.map || !view.drawn || std::abs(view.up) > 0.9) return std::nullopt;
    const Vec2 rise = rise_on_map(view);
    const double upright = Degrees::from_radians(std::atan2(-rise.x, rise.y)).value;
    return std::abs(std::remainder(view.mark->anchor.turn.value - upright, 360));
}

std::vector<Finding> assess(const Context& context, const MarkView& view, std::size_t) {
    const process::Limit* limit = context.process.limit("upright", view.mark->mode, view.zone);
    if (!limit || !text_of(*view.mark)) return {};
    const auto angle = turned(view);
    if (!angle || !at_most(*angle, *limit)) return {};
    Finding finding = finding_of("upside_down", view, Severity::warning);
    set_figures(finding, *angle, *limit);
    finding.unit = "°";
    finding.message =
        "As the part stands the lettering is turned by " + text_of(Degrees(*angle)) + " and reads upside down.";
    locate_whole(finding, view);
    soften(finding);
    return {std::move(finding)};
}

} // namespace

void judge_upside_down(const Context& context, std::size_t mark, std::vector<Finding>& findings) {
    const MarkView& view = context.marks[mark];
    for (Finding& finding : assess(context, view, mark)) {
        job::Anchor anchor = view.mark->anchor;
        anchor.turn = Degrees(anchor.turn.value > 0 ? anchor.turn.value - 180 : anchor.turn.value + 180);
        Fixer(context, mark, &assess, finding.severity)
            .offer(finding, {"turn", "Turn by 180°", edit_anchor(view.mark->id, anchor)}, Need::place);
        findings.push_back(std::move(finding));
    }
}

} // namespace touchmark::rules
