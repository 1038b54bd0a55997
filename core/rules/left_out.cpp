// SPDX-License-Identifier: MIT
#include "core/rules/support.h"
#include "core/rules/table.h"

namespace touchmark::rules {

void judge_left_out(const Context& context, std::size_t mark, std::vector<Finding>& findings) {
    const MarkView& view = context.marks[mark];
    if (!view.drawn) return;
    for (const bool lost : {true, false}) {
        std::string all;
        std::size_t count = 0;
        for (const content::Note& note : view.drawn->notes) {
            if (note.lost != lost) continue;
            all += (all.empty() ? "" : "; ") + note.what;
            if (note.count > 1) all += " (" + std::to_string(note.count) + ")";
            count += note.count;
        }
        if (count == 0) continue;
        Finding finding = finding_of("left_out", view, lost ? Severity::warning : Severity::advice);
        finding.figure = static_cast<double>(count);
        finding.limit = 0;
        finding.source = "the drawing";
        finding.message = (lost ? "Of the drawing is left out: " : "Of the drawing is changed: ") + all + ".";
        locate_whole(finding, view);
        findings.push_back(std::move(finding));
    }
}

} // namespace touchmark::rules
