// SPDX-License-Identifier: MIT
#include "core/surface/stretch.h"

#include "core/base/number_text.h"
#include "core/rules/support.h"
#include "core/rules/table.h"

namespace touchmark::rules {

void judge_stretch(const Context& context, std::size_t mark, std::vector<Finding>& findings) {
    const MarkView& view = context.marks[mark];
    const process::Limit* limit = context.process.limit("stretch", view.mark->mode, view.zone);
    if (!limit || !view.drawn || !view.map || !view.map->chart()) return;
    const surface::Stretch stretch = surface::stretch_under(*view.map, view.placed);
    const double percent = 100 * stretch.departure();
    const auto severity = at_most(percent, *limit);
    if (!severity) return;
    Finding finding = finding_of("stretch", view, *severity);
    set_figures(finding, percent, *limit);
    finding.message = std::string("The bent face ") +
                      (stretch.most - 1 > 1 - stretch.least ? "stretches" : "squeezes") + " the mark by up to " +
                      short_number(percent) + " %; " + short_number(missed(finding)) +
                      (*severity == Severity::blocker ? " % is the most that can be read." : " % is hardly seen.");
    locate(finding, view, {stretch.at}, std::max(1.0, length(view.placed_box.high - view.placed_box.low) / 2));
    findings.push_back(std::move(finding));
}

} // namespace touchmark::rules
