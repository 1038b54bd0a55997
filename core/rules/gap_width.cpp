// SPDX-License-Identifier: MIT
#include "core/rules/narrow.h"
#include "core/rules/table.h"

#include "core/base/number_text.h"

namespace touchmark::rules {
namespace {

std::string name_of(const content::Drawn& drawn, const geometry::Narrow& place) {
    const content::Piece* a = piece_of(drawn, place.region);
    const content::Piece* b = piece_of(drawn, place.other_region);
    if (!a || !b) return "in the mark";
    return a == b ? "in " + in_quotes(a->label) : "between " + in_quotes(a->label) + " and " + in_quotes(b->label);
}

/// The widest lack among gaps between letters beside each other, and among those between lines, mm.
struct Lack {
    double beside = 0, lines = 0;
};
Lack lack_of(const MarkView& view, double wanted) {
    Lack lack;
    for (const geometry::Narrow& place : *view.gaps) {
        if (place.width >= wanted - same) break;
        const content::Piece* a = piece_of(*view.drawn, place.region);
        const content::Piece* b = piece_of(*view.drawn, place.other_region);
        if (!a || !b || a == b) continue;
        const Vec2 across = place.side_b - place.side_a;
        double& worst = std::abs(across.x) >= std::abs(across.y) ? lack.beside : lack.lines;
        worst = std::max(worst, wanted - place.width);
    }
    return lack;
}

/// Rounded outcomes miss by a hair where a gap runs askew, so a few steps more are tried.
void offer_spacing(const Fixer& fixer, Finding& finding, double lack) {
    const content::Text* text = text_of(*fixer.view().mark);
    if (!text || lack <= 0) return;
    constexpr double step = 0.05;
    const double now = text->letter_spacing.value;
    for (int extra = 0; extra < 4; ++extra) {
        const double spacing = rounded_up(now + lack, step) + extra * step;
        Fix fix{"letter_spacing", "Letter spacing " + change_of(now, spacing),
                edit_text(fixer.view().mark->id, [=](content::Text& edited) { edited.letter_spacing = Mm(spacing); })};
        if (fixer.offer(finding, std::move(fix), Need::widths)) return;
    }
}

void offer_line_spacing(const Fixer& fixer, Finding& finding, double lack) {
    const content::Text* text = text_of(*fixer.view().mark);
    if (!text || lack <= 0) return;
    constexpr double step = 0.05;
    const double spacing = rounded_up(text->line_spacing + lack / text->cap_height.value, step);
    fixer.offer(finding,
                {"line_spacing",
                 "Line spacing " + short_number(text->line_spacing) + " → " + short_number(spacing) + " × cap height",
                 edit_text(fixer.view().mark->id, [=](content::Text& edited) { edited.line_spacing = spacing; })},
                Need::widths);
}

} // namespace

std::vector<Finding> assess_gap_width(const Context& context, const MarkView& view, std::size_t) {
    const process::Limit* limit = context.process.limit("gap_width", view.mark->mode, view.zone);
    if (!limit || !view.drawn || !view.gaps || view.gaps->empty()) return {};
    const double width = view.gaps->front().width;
    auto severity = at_least(width, *limit);
    if (!severity) return {};
    const double share = *severity == Severity::blocker
                             ? narrow_share(*view.drawn, *view.gaps, view.gap_stretches.get(),
                                            view.stroke_stretches.get(), limit->hard.value, layering_of(context, view))
                             : 0;
    const bool in_part = *severity == Severity::blocker && share < closed_share;
    if (in_part) severity = Severity::warning;
    Finding finding = finding_of("gap_width", view, *severity);
    set_figures(finding, width, *limit);
    NarrowPlaces places = narrow_places(view, *view.gaps, limit->comfortable.value, name_of);
    const double needed = in_part ? limit->hard.value : missed(finding);
    if (in_part) finding.source = limit->hard.source;
    finding.message = places.in_code             ? "Gaps between modules of the code are "
                      : places.names.size() == 1 ? "The gap " + places.names.front() + " is "
                                                 : "Gaps " + some_of(places.names) + " are down to ";
    finding.message +=
        apart(width, needed) + "; " + text_of(Mm(needed)) +
        (in_part && share < dim_share ? " stays open. It is a small part of the letter's openings."
         : in_part ? " stays open. So much of the letter's openings closes that it does not read for sure."
         : *severity == Severity::blocker ? " stays open."
                                          : " stays open reliably.");
    locate(finding, view, std::move(places.where), places.extent_mm);
    return {std::move(finding)};
}

void judge_gap_width(const Context& context, std::size_t mark, std::vector<Finding>& findings) {
    for (Finding& finding : assess_gap_width(context, context.marks[mark], mark)) {
        const Fixer fixer(context, mark, &assess_gap_width, finding.severity);
        const Lack lack = lack_of(fixer.view(), *finding.comfortable);
        if (context.what_if) {
            offer_spacing(fixer, finding, lack.beside);
            offer_line_spacing(fixer, finding, lack.lines);
        }
        offer_size(fixer, finding, clean_factor(context, fixer.view(), "gap_width"));
        findings.push_back(std::move(finding));
    }
}

} // namespace touchmark::rules
