// SPDX-License-Identifier: MIT
#include "core/rules/fixes.h"
#include "core/rules/table.h"

#include <algorithm>

namespace touchmark::rules {
namespace {

std::vector<Finding> assess(const Context&, const MarkView& view, std::size_t) {
    if (!view.drawn || view.drawn->missing.empty()) return {};
    Finding finding = finding_of("missing_characters", view, Severity::blocker);
    std::vector<std::string> names;
    for (const content::MissingCharacter& missing : view.drawn->missing)
        if (std::string name = in_quotes(missing.character); std::ranges::find(names, name) == names.end())
            names.push_back(std::move(name));
    finding.figure = static_cast<double>(view.drawn->missing.size());
    finding.limit = 0;
    finding.source = "the font file";
    finding.message = view.drawn->face.family + " " + view.drawn->face.style + " has no " + some_of(names) +
                      (names.size() > 1 ? "; they are left out." : "; it is left out.");
    locate_whole(finding, view);
    return {std::move(finding)};
}

void offer_family(const Fixer& fixer, Finding& finding) {
    const content::Text* text = text_of(*fixer.view().mark);
    if (!text) return;
    const std::string family(content::default_family);
    if (text->family == family) return;
    fixer.offer(finding,
                {"family", "Font " + text->family + " → " + family,
                 edit_text(fixer.view().mark->id, [family](content::Text& edited) { edited.family = family; })},
                Need::widths);
}

std::string without(std::string text, const std::vector<content::MissingCharacter>& missing) {
    for (const content::MissingCharacter& one : missing)
        for (auto at = text.find(one.character); !one.character.empty() && at != std::string::npos;
             at = text.find(one.character))
            text.erase(at, one.character.size());
    return text;
}

} // namespace

void judge_missing_characters(const Context& context, std::size_t mark, std::vector<Finding>& findings) {
    const MarkView& view = context.marks[mark];
    for (Finding& finding : assess(context, view, mark)) {
        const Fixer fixer(context, mark, &assess, finding.severity);
        offer_family(fixer, finding);
        fixer.offer(
            finding,
            {"leave_out", "Take them out of the text",
             edit_text(view.mark->id, [missing = view.drawn->missing](
                                          content::Text& edited) { edited.text = without(edited.text, missing); })},
            Need::widths);
        findings.push_back(std::move(finding));
    }
}

} // namespace touchmark::rules
