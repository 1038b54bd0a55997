// SPDX-License-Identifier: MIT
#include "core/rules/fixes.h"
#include "core/rules/table.h"

#include "core/base/number_text.h"

namespace touchmark::rules {
namespace {

std::vector<Finding> assess(const Context& context, const MarkView& view, std::size_t) {
    const process::Limit* limit = context.process.limit("edge_margin", view.mark->mode, view.zone);
    // Beyond the edge leaves_face speaks.
    if (!limit || !view.drawn || !view.map || view.margin.distance < -same) return {};
    const double margin = std::max(0.0, view.margin.distance);
    const auto severity = at_least(margin, *limit);
    if (!severity) return {};
    Finding finding = finding_of("edge_margin", view, *severity);
    set_figures(finding, margin, *limit);
    finding.message = "The mark comes within " + apart(margin, missed(finding)) + " of the face's edge; " +
                      text_of(Mm(missed(finding))) +
                      (*severity == Severity::blocker ? " is the least that holds." : " keeps it safe.");
    locate(finding, view, {view.margin.on_mark, view.margin.on_edge}, std::max(1.0, 4 * limit->comfortable.value));
    return {std::move(finding)};
}

} // namespace

void judge_edge_margin(const Context& context, std::size_t mark, std::vector<Finding>& findings) {
    for (Finding& finding : assess(context, context.marks[mark], mark)) {
        offer_fit(Fixer(context, mark, &assess, finding.severity), finding);
        findings.push_back(std::move(finding));
    }
}

} // namespace touchmark::rules
