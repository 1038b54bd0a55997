// SPDX-License-Identifier: MIT
#include "core/rules/fixes.h"
#include "core/rules/table.h"

namespace touchmark::rules {
namespace {

std::vector<Finding> assess(const Context&, const MarkView& view, std::size_t) {
    if (!view.trouble) return {};
    Finding finding = finding_of("content", view, Severity::blocker);
    finding.message = view.trouble->message;
    if (!view.trouble->hint.empty()) finding.message += " " + view.trouble->hint;
    finding.source = "computed";
    if (view.map) locate_whole(finding, view);
    return {std::move(finding)};
}

} // namespace

void judge_content(const Context& context, std::size_t mark, std::vector<Finding>& findings) {
    const MarkView& view = context.marks[mark];
    for (Finding& finding : assess(context, view, mark)) {
        const Fixer fixer(context, mark, &assess, finding.severity);
        const content::Text* text = text_of(*view.mark);
        if (!view.drawn && text && text->family != content::default_family)
            fixer.offer(
                finding,
                {"family", "Font " + text->family + " → " + std::string(content::default_family),
                 edit_text(view.mark->id, [](content::Text& edited) { edited.family = content::default_family; })},
                Need::widths);
        if (!view.map) offer_side_wall_face(fixer, finding);
        findings.push_back(std::move(finding));
    }
}

} // namespace touchmark::rules
