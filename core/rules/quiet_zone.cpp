// SPDX-License-Identifier: MIT
#include "core/rules/fixes.h"
#include "core/rules/outline_distance.h"
#include "core/rules/table.h"

#include "core/base/number_text.h"
#include "core/content/code.h"

#include <algorithm>
#include <iterator>

namespace touchmark::rules {
namespace {

geometry::Outline rectangle(const Box2& box) {
    return {{{geometry::contour_of(box.corners()), {}}}};
}

/// The symbol with its free margin, where the mark is; empty where the margin is marked itself and so has its rules.
geometry::Outline symbol_of(const MarkView& view) {
    if (!view.drawn || !view.map || !view.drawn->code || view.drawn->code->quiet_mm <= 0) return {};
    const job::Anchor& anchor = view.mark->anchor;
    return geometry::transformed(rectangle(view.drawn->code->whole), surface::placement(anchor.at, anchor.turn));
}

std::string margin_of(const content::ModulePlaces& code) {
    return text_of(Mm(code.quiet_mm)) + " (" + short_number(code.quiet_mm / code.module_mm) + " modules)";
}

Finding finding_on(const MarkView& view, double free_mm) {
    Finding finding = finding_of("quiet_zone", view, Severity::warning);
    finding.figure = free_mm;
    finding.limit = view.drawn->code->quiet_mm;
    finding.unit = "mm";
    const auto* code = std::get_if<content::Code>(&view.mark->content);
    finding.source = code ? std::string(content::row_of(code->symbology).standard) + ", quiet zone" : "the symbology";
    return finding;
}

std::vector<Finding> assess_edge(const Context&, const MarkView& view, std::size_t) {
    const geometry::Outline symbol = symbol_of(view);
    if (symbol.empty()) return {};
    const surface::Margin margin = surface::margin(*view.map, symbol);
    if (margin.distance >= -same) return {};
    const content::ModulePlaces& code = *view.drawn->code;
    Finding finding = finding_on(view, std::max(0.0, code.quiet_mm + margin.distance));
    finding.message = "The free margin of the code reaches " + apart(-margin.distance, 0) + " over the face's edge; " +
                      margin_of(code) + " beside it have to stay plain for a scanner.";
    locate(finding, view, {margin.on_mark, margin.on_edge}, std::max(1.0, 4 * code.quiet_mm));
    return {std::move(finding)};
}

/// Another mark within the margin; two charts of one face do not compare.
std::vector<Finding> assess_neighbours(const Context& context, const MarkView& view, std::size_t mark) {
    std::vector<Finding> findings;
    const geometry::Outline symbol = symbol_of(view);
    if (symbol.empty() || view.map->chart()) return findings;
    for (std::size_t other = 0; other < context.marks.size(); ++other) {
        const MarkView& beside = context.marks[other];
        if (other == mark || !beside.map || !beside.drawn || beside.map->face() != view.map->face()) continue;
        if (!geometry::bounds(symbol).meets(beside.placed_box)) continue;
        const auto near = nearness(symbol, beside.placed, same);
        if (!near) continue;
        const auto modules = nearness(view.placed, beside.placed, 2 * view.drawn->code->quiet_mm);
        Finding finding = finding_on(view, modules ? modules->distance : view.drawn->code->quiet_mm);
        finding.message = in_quotes(beside.mark->name) + " stands in the free margin of the code; " +
                          margin_of(*view.drawn->code) + " beside it have to stay plain for a scanner.";
        locate(finding, view, {near->on_b}, std::max(1.0, 4 * view.drawn->code->quiet_mm));
        findings.push_back(std::move(finding));
    }
    return findings;
}

void offer_inward(const Fixer& fixer, Finding& finding) {
    const MarkView& view = fixer.view();
    const auto by = surface::shift_inward(*view.map, symbol_of(view), 0);
    if (!by) return;
    const Vec2 at = view.map->on_face(view.mark->anchor.at + *by);
    fixer.offer(finding,
                {"move_inward", "Move " + number_text(length(at - view.mark->anchor.at)) + " mm inward",
                 edit_position(view.mark->id, at)},
                Need::placed);
}

} // namespace

void judge_quiet_zone(const Context& context, std::size_t mark, std::vector<Finding>& findings) {
    for (Finding& finding : assess_edge(context, context.marks[mark], mark)) {
        if (context.what_if) {
            // A step away from the edge must not lead into another mark.
            offer_inward(Fixer(context, mark, &assess_together<assess_edge, assess_neighbours>, finding.severity),
                         finding);
            if (finding.fixes.empty())
                offer_side_wall_face(Fixer(context, mark, &assess_edge, finding.severity), finding);
        }
        findings.push_back(std::move(finding));
    }
    std::ranges::move(assess_neighbours(context, context.marks[mark], mark), std::back_inserter(findings));
}

} // namespace touchmark::rules
