// SPDX-License-Identifier: MIT
#include "core/rules/fixes.h"
#include "core/rules/table.h"

#include "core/base/number_text.h"

#include <cmath>
#include <numbers>

namespace touchmark::rules {
namespace {

constexpr double minute = std::numbers::pi / 180 / 60; // of arc

std::vector<Finding> assess(const Context& context, const MarkView& view, std::size_t) {
    const double away = view.mark->reading_distance.value;
    const process::Limit* limit = context.process.limit("reading_angle", view.mark->mode, view.zone);
    if (!limit || !view.drawn || !(away > 0) || !(view.drawn->cap_height.value > 0) || !text_of(*view.mark)) return {};
    const double height = view.drawn->cap_height.value;
    const double angle = 2 * std::atan(height / (2 * away)) / minute;
    const auto severity = at_least(angle, *limit);
    if (!severity) return {};
    Finding finding = finding_of("reading_distance", view, *severity);
    set_figures(finding, angle, *limit);
    finding.unit = "′";
    const Mm needed(2 * away * std::tan(missed(finding) * minute / 2));
    finding.message = "From " + text_of(view.mark->reading_distance) + " away capitals of " + text_of(Mm(height)) +
                      " fill " + short_number(angle) + " minutes of arc; " + short_number(missed(finding)) +
                      (*severity == Severity::blocker ? " can be read" : " read with ease") + ": " + text_of(needed) +
                      ".";
    locate_whole(finding, view);
    soften(finding);
    return {std::move(finding)};
}

} // namespace

void judge_reading_distance(const Context& context, std::size_t mark, std::vector<Finding>& findings) {
    for (Finding& finding : assess(context, context.marks[mark], mark)) {
        offer_size(Fixer(context, mark, &assess, finding.severity), finding, *finding.comfortable / finding.figure);
        findings.push_back(std::move(finding));
    }
}

} // namespace touchmark::rules
