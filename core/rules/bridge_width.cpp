// SPDX-License-Identifier: MIT
#include "core/rules/fixes.h"
#include "core/rules/table.h"

#include "core/base/number_text.h"
#include "core/job/parameter.h"

namespace touchmark::rules {
namespace {

constexpr double step = 0.05;

std::vector<Finding> assess(const Context& context, const MarkView& view, std::size_t) {
    const process::Limit* limit = context.process.limit("bridge_width", view.mark->mode, view.zone);
    if (!limit || view.bridges.empty()) return {};
    const double width = view.bridges.front().width; // of all of them
    const auto severity = at_least(width, *limit);
    if (!severity) return {};
    Finding finding = finding_of("bridge_width", view, *severity);
    set_figures(finding, width, *limit);
    finding.message = "Bridges are " + apart(width, missed(finding)) + " wide; " + text_of(Mm(missed(finding))) +
                      (*severity == Severity::blocker ? " holds together." : " bears handling.");
    std::vector<Vec2> where;
    for (const geometry::Bridge& bridge : view.bridges)
        where.push_back(on_map(view, bridge.at));
    locate(finding, view, std::move(where), 4 * limit->comfortable.value);
    return {std::move(finding)};
}

} // namespace

void judge_bridge_width(const Context& context, std::size_t mark, std::vector<Finding>& findings) {
    const MarkView& view = context.marks[mark];
    for (Finding& finding : assess(context, view, mark)) {
        const double width = rounded_up(*finding.comfortable, step);
        const Fixer fixer(context, mark, &assess, finding.severity);
        fixer.offer(finding,
                    {"bridge_width", "Bridge width " + change_of(finding.figure, width),
                     [id = view.mark->id, width](const job::Job& job) {
                         return job::set_parameter(job, id, "bridge_width", width);
                     }},
                    Need::widths);
        findings.push_back(std::move(finding));
    }
}

} // namespace touchmark::rules
