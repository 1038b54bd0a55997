// SPDX-License-Identifier: MIT
#include "core/rules/fixes.h"
#include "core/rules/table.h"

namespace touchmark::rules {
namespace {

std::vector<Finding> assess(const Context&, const MarkView& view, std::size_t) {
    if (!view.drawn || !view.map || view.margin.distance >= -same) return {};
    Finding finding = finding_of("leaves_face", view, Severity::blocker);
    finding.figure = -view.margin.distance;
    finding.limit = 0;
    finding.unit = "mm";
    finding.source = "computed: the face ends there";
    finding.message = "The mark leaves its face by " + apart(finding.figure, 0) + ".";
    locate(finding, view, {view.margin.on_mark, view.margin.on_edge}, std::max(1.0, 4 * finding.figure));
    return {std::move(finding)};
}

} // namespace

void judge_leaves_face(const Context& context, std::size_t mark, std::vector<Finding>& findings) {
    for (Finding& finding : assess(context, context.marks[mark], mark)) {
        offer_fit(Fixer(context, mark, &assess, finding.severity), finding);
        findings.push_back(std::move(finding));
    }
}

} // namespace touchmark::rules
