// SPDX-License-Identifier: MIT
#include "core/rules/fixes.h"
#include "core/rules/table.h"

#include "core/base/number_text.h"

namespace touchmark::rules {
namespace {

constexpr double step = 0.05;

Finding depth_finding(const MarkView& view, const process::Limit& limit, Severity severity, std::string_view verdict,
                      bool shallow) {
    Finding finding = finding_of("depth", view, severity);
    const double depth = view.mark->depth.value;
    set_figures(finding, depth, limit);
    const Mode mode = view.mark->mode;
    const std::string_view what = mode == Mode::raise    ? "The mark is "
                                  : mode == Mode::hidden ? "The void is "
                                                         : "The cut is ";
    finding.message = std::string(what) + (shallow ? "only " : "") + apart(depth, missed(finding)) +
                      (cuts_in(mode) ? " deep; " : " high; ") + text_of(Mm(missed(finding))) + std::string(verdict);
    locate_whole(finding, view);
    return finding;
}

std::vector<Finding> assess(const Context& context, const MarkView& view, std::size_t) {
    std::vector<Finding> findings;
    if (view.mark->mode == Mode::through) return findings; // as deep as the wall
    const double depth = view.mark->depth.value;
    if (const auto* limit = context.process.limit("depth_min", view.mark->mode, view.zone))
        if (const auto severity = at_least(depth, *limit))
            findings.push_back(depth_finding(
                view, *limit, *severity, *severity == Severity::blocker ? " can be made out." : " reads well.", true));
    if (const auto* limit = context.process.limit("depth_max", view.mark->mode, view.zone))
        if (const auto severity = at_most(depth, *limit))
            findings.push_back(
                depth_finding(view, *limit, *severity,
                              *severity == Severity::blocker ? " is the most that prints." : " is plenty.", false));
    return findings;
}

} // namespace

void judge_depth(const Context& context, std::size_t mark, std::vector<Finding>& findings) {
    const MarkView& view = context.marks[mark];
    for (Finding& finding : assess(context, view, mark)) {
        const double wanted = *finding.comfortable;
        const double depth = finding.figure < wanted ? rounded_up(wanted, step) : rounded_down(wanted, step);
        const std::string_view title = cuts_in(view.mark->mode)          ? "Depth "
                                       : view.mark->mode == Mode::hidden ? "Height of the void "
                                                                         : "Height off the face ";
        const Fixer fixer(context, mark, &assess, finding.severity);
        fixer.offer(
            finding,
            {"depth", std::string(title) + change_of(view.mark->depth.value, depth), edit_depth(view.mark->id, depth)},
            Need::widths);
        findings.push_back(std::move(finding));
    }
}

} // namespace touchmark::rules
