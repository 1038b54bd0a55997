// SPDX-License-Identifier: MIT
#include "core/rules/fixes.h"
#include "core/rules/table.h"

#include <algorithm>

namespace touchmark::rules {
namespace {

/// The counters of a mark that is cut through: what stands in them is held by nothing.
Finding loose(const MarkView& view, std::vector<Vec2> where) {
    Finding finding = finding_of("opening", view, Severity::blocker);
    finding.figure = static_cast<double>(where.size());
    finding.limit = 0;
    finding.unit = "";
    finding.source = "computed: an outline within an outline";
    finding.message = where.size() == 1 ? "The inside of one letter or shape would fall out when it is cut through."
                                        : "The insides of " + std::to_string(where.size()) +
                                              " letters or shapes would fall out when they are cut through.";
    locate(finding, view, std::move(where), 2);
    return finding;
}

std::vector<Finding> assess(const Context&, const MarkView& view, std::size_t) {
    std::vector<Finding> findings;
    if (view.mark->mode != Mode::through || !view.map) return findings;
    std::vector<Vec2> counters;
    for (const geometry::Region& region : view.placed.regions)
        for (const geometry::Contour& hole : region.holes)
            counters.push_back(geometry::bounds(hole).centre());
    if (!counters.empty()) findings.push_back(loose(view, std::move(counters)));
    if (view.no_far) {
        Finding finding = finding_of("opening", view, Severity::blocker);
        finding.unit = "";
        finding.source = "computed: what lies behind the mark";
        finding.message = view.no_far->message;
        locate_whole(finding, view);
        findings.push_back(std::move(finding));
    }
    return findings;
}

} // namespace

void judge_opening(const Context& context, std::size_t mark, std::vector<Finding>& findings) {
    const MarkView& view = context.marks[mark];
    for (Finding& finding : assess(context, view, mark)) {
        const Fixer fixer(context, mark, &assess, finding.severity);
        if (context.what_if && view.bridges.empty())
            fixer.offer(finding, {"bridges", "Add bridges that hold them", edit_bridges(view.mark->id)}, Need::wall);
        if (context.what_if)
            fixer.offer(finding, {"engrave", "Engrave instead of cut through", edit_mode(view.mark->id, Mode::engrave)},
                        Need::wall);
        findings.push_back(std::move(finding));
    }
}

} // namespace touchmark::rules
