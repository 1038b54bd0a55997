// SPDX-License-Identifier: MIT
#include "core/rules/fixes.h"
#include "core/rules/table.h"

#include "core/base/number_text.h"

namespace touchmark::rules {
namespace {

constexpr double step = 0.05;

Finding cover_finding(const MarkView& view, const process::Limit& limit, Severity severity, bool thin) {
    Finding finding = finding_of("cover", view, severity);
    const double cover = view.mark->cover.value;
    set_figures(finding, cover, limit);
    finding.message = "The hidden mark lies " + std::string(thin ? "only " : "") + apart(cover, missed(finding)) +
                      " under the face; " + text_of(Mm(missed(finding))) +
                      (thin ? severity == Severity::blocker ? " closes over it." : " closes over it well."
                       : severity == Severity::blocker ? " is the most that light gets through."
                                                       : " shows clearly against a light.");
    locate_whole(finding, view);
    return finding;
}

std::vector<Finding> assess(const Context& context, const MarkView& view, std::size_t) {
    std::vector<Finding> findings;
    if (view.mark->mode != Mode::hidden) return findings;
    const double cover = view.mark->cover.value;
    if (const auto* limit = context.process.limit("cover_min", Mode::hidden, view.zone))
        if (const auto severity = at_least(cover, *limit))
            findings.push_back(cover_finding(view, *limit, *severity, true));
    if (const auto* limit = context.process.limit("cover_max", Mode::hidden, view.zone))
        if (const auto severity = at_most(cover, *limit))
            findings.push_back(cover_finding(view, *limit, *severity, false));
    return findings;
}

} // namespace

void judge_cover(const Context& context, std::size_t mark, std::vector<Finding>& findings) {
    const MarkView& view = context.marks[mark];
    for (Finding& finding : assess(context, view, mark)) {
        const double wanted = *finding.comfortable, now = view.mark->cover.value;
        const double cover = finding.figure < wanted ? rounded_up(wanted, step) : rounded_down(wanted, step);
        const Fixer fixer(context, mark, &assess, finding.severity);
        fixer.offer(finding, {"cover", "Cover " + change_of(now, cover), edit_cover(view.mark->id, cover)},
                    Need::widths);
        findings.push_back(std::move(finding));
    }
}

} // namespace touchmark::rules
