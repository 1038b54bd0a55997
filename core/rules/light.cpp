// SPDX-License-Identifier: MIT
#include "core/rules/printed_fixes.h"
#include "core/rules/table.h"

#include "core/base/number_text.h"

#include <algorithm>
#include <cmath>

namespace touchmark::rules {
namespace {

/// Shares differ by powers of ten: what is the same for lengths is not for them.
std::optional<Severity> too_little(double share, const process::Limit& limit) {
    if (share < limit.hard.value) return Severity::blocker;
    if (share < limit.comfortable.value) return Severity::warning;
    return std::nullopt;
}

std::string figured(const print::LightThrough& light) {
    return light.measured ? " by the shop's wedge" : " by the profile's planning figure";
}

Finding dim(const MarkView& view, const print::LightThrough& light, double share, const process::Limit& limit,
            Severity severity) {
    Finding finding = finding_of("light", view, severity);
    set_figures(finding, share, limit);
    finding.message = "Through the wall of " + text_of(Mm(light.thickest_mm)) + " behind the hidden mark comes " +
                      (share < 1e-6 ? "less than a millionth" : "1 / " + number_text(std::round(1 / share))) +
                      " of a light" + figured(light) + ".";
    locate_whole(finding, view);
    return finding;
}

std::vector<Finding> assess(const Context& context, const MarkView& view, std::size_t) {
    std::vector<Finding> findings;
    if (!view.printed || !view.printed->light || !context.process.printing) return findings;
    const print::LightThrough& light = *view.printed->light;
    if (const auto* limit = context.process.limit("light", Mode::hidden, view.zone)) {
        const double share = light.dimmest(*context.process.printing);
        if (const auto severity = too_little(share, *limit))
            findings.push_back(dim(view, light, share, *limit, *severity));
    }
    if (const auto* limit = context.process.limit("contrast", Mode::hidden, view.zone))
        if (const auto severity = at_least(light.least_contrast(), *limit)) {
            Finding& finding = findings.emplace_back(finding_of("light", view, *severity));
            set_figures(finding, light.least_contrast(), *limit);
            finding.message = "Held against a light the mark differs from its surroundings by a contrast of " +
                              short_number(finding.figure) + figured(light) + "; " + short_number(missed(finding)) +
                              (*severity == Severity::blocker ? " can be seen." : " reads well.");
            locate_whole(finding, view);
        }
    return findings;
}

} // namespace

void judge_light(const Context& context, std::size_t mark, std::vector<Finding>& findings) {
    for (Finding& finding : assess(context, context.marks[mark], mark)) {
        const Fixer fixer(context, mark, &assess, finding.severity);
        offer_printed_depth(fixer, finding);
        offer_printed_size(fixer, finding);
        findings.push_back(std::move(finding));
    }
}

} // namespace touchmark::rules
