// SPDX-License-Identifier: MIT
#include "core/rules/narrow.h"
#include "core/rules/table.h"

#include "core/base/number_text.h"

namespace touchmark::rules {
namespace {

std::string name_of(const content::Drawn& drawn, const geometry::Narrow& place) {
    const content::Piece* piece = piece_of(drawn, place.region);
    return piece ? in_quotes(piece->label) : "the mark";
}

/// The lightest heavier face that is clean, else the lightest that helps at all.
void offer_weight(const Fixer& fixer, Finding& finding) {
    const MarkView& view = fixer.view();
    const content::Text* text = text_of(*view.mark);
    if (!text || !fixer.context().what_if) return;
    std::optional<Fix> best;
    std::optional<Severity> best_severity;
    for (const content::FontFace& face : content::heavier_faces(*text, fixer.context().fonts)) {
        Fix fix{"weight", "Weight " + view.drawn->face.style + " → " + face.style,
                edit_text(view.mark->id, [weight = face.weight](content::Text& edited) { edited.weight = weight; })};
        const auto trial = fixer.attempt(fix.edit, Need::widths);
        if (!trial || !fixer.helps(*trial)) continue;
        if (!best || !trial->severity) best = std::move(fix), best_severity = trial->severity;
        if (!best_severity) break;
    }
    if (best) finding.fixes.push_back(std::move(*best));
}

} // namespace

std::vector<Finding> assess_stroke_width(const Context& context, const MarkView& view, std::size_t) {
    const process::Limit* limit = context.process.limit("stroke_width", view.mark->mode, view.zone);
    if (!limit || !view.drawn || !view.strokes || view.strokes->empty()) return {};
    const double width = view.strokes->front().width;
    auto severity = at_least(width, *limit);
    if (!severity) return {};
    const double share = *severity == Severity::blocker
                             ? narrow_share(*view.drawn, *view.strokes, view.stroke_stretches.get(),
                                            view.stroke_stretches.get(), limit->hard.value, layering_of(context, view))
                             : 0;
    const bool in_part = *severity == Severity::blocker && share < lost_share;
    if (in_part) severity = Severity::warning;
    Finding finding = finding_of("stroke_width", view, *severity);
    set_figures(finding, width, *limit);
    if (in_part) finding.source = limit->hard.source;
    NarrowPlaces places = narrow_places(view, *view.strokes, limit->comfortable.value, name_of);
    const bool blocked = *severity == Severity::blocker;
    const double needed = in_part ? limit->hard.value : missed(finding);
    finding.message = (places.in_code ? "Modules of the code" : "Strokes of " + some_of(places.names)) +
                      (places.names.size() > 1 ? " are down to " : " are ") + apart(width, needed) + "; " +
                      text_of(Mm(needed)) + (blocked || in_part ? " prints." : " prints cleanly.");
    if (in_part)
        finding.message += share < unread_share ? " It is a small part of the letter."
                                                : " So much of the letter is missing that it does not read for sure.";
    locate(finding, view, std::move(places.where), places.extent_mm);
    return {std::move(finding)};
}

void judge_stroke_width(const Context& context, std::size_t mark, std::vector<Finding>& findings) {
    for (Finding& finding : assess_stroke_width(context, context.marks[mark], mark)) {
        const Fixer fixer(context, mark, &assess_stroke_width, finding.severity);
        offer_size(fixer, finding, clean_factor(context, fixer.view(), "stroke_width"));
        offer_weight(fixer, finding);
        findings.push_back(std::move(finding));
    }
}

} // namespace touchmark::rules
