// SPDX-License-Identifier: MIT
#include "core/rules/fixes.h"
#include "core/rules/narrow.h"
#include "core/rules/table.h"

#include "core/base/number_text.h"
#include "core/content/code.h"

#include <cmath>

namespace touchmark::rules {
namespace {

double lines_of(const Context& context, const MarkView& view) {
    return view.drawn->code->module_mm / context.process.line_width_mm.value;
}

bool stroke_width_speaks_as_loud(const Context& context, const MarkView& view, std::size_t mark, Severity severity) {
    const auto said = assess_stroke_width(context, view, mark);
    return !said.empty() && said.front().severity <= severity;
}

std::vector<Finding> assess_lines(const Context& context, const MarkView& view, std::size_t mark) {
    const process::Limit* limit = context.process.limit("code_module", view.mark->mode, view.zone);
    if (!limit || !view.drawn || !view.drawn->code) return {};
    const double lines = lines_of(context, view);
    const auto severity = at_least(lines, *limit);
    if (!severity || stroke_width_speaks_as_loud(context, view, mark, *severity)) return {};
    Finding finding = finding_of("code_module", view, *severity);
    set_figures(finding, lines, *limit);
    finding.message = "Modules of the code are " + text_of(Mm(view.drawn->code->module_mm)) + ", " +
                      short_number(lines) + " lines; " + short_number(missed(finding)) +
                      (*severity == Severity::blocker ? " can be laid." : " draw each of their edges.");
    locate_whole(finding, view);
    return {std::move(finding)};
}

/// How high a layer is on the face, where its edges run along those of the modules; nullopt elsewhere.
std::optional<double> layer_on_face(const Context& context, const MarkView& view) {
    if (!view.drawn || !view.drawn->code || !view.map ||
        (view.zone != Zone::side_wall && view.zone != Zone::slope && view.zone != Zone::overhang))
        return std::nullopt;
    const Vec2 rise = rise_on_map(view);
    const double steepness = length(rise);
    if (steepness < 0.1) return std::nullopt; // the layers run alongside the face
    constexpr double square = 5;              // degrees
    const double turned = Degrees::from_radians(std::atan2(rise.y, rise.x)).value - view.mark->anchor.turn.value;
    if (std::abs(std::remainder(turned, 90)) > square) return std::nullopt;
    const auto* code = std::get_if<content::Code>(&view.mark->content);
    const bool bars_along = std::abs(std::remainder(turned - 90, 180)) <= square; // bars cross every layer
    if (code && content::row_of(code->symbology).linear && bars_along) return std::nullopt;
    return context.process.layer_height_mm.value / steepness;
}

std::vector<Finding> assess_layers(const Context& context, const MarkView& view, std::size_t) {
    const process::Limit* limit = context.process.limit("module_error", view.mark->mode, view.zone);
    const auto layer = limit ? layer_on_face(context, view) : std::nullopt;
    if (!layer) return {};
    const double module = view.drawn->code->module_mm, count = module / *layer;
    const double whole = std::round(count);
    const double error =
        std::abs(count - whole) < 0.02
            ? 0
            : 100 * std::max(module - std::floor(count) * *layer, std::ceil(count) * *layer - module) / module;
    const auto severity = at_most(error, *limit);
    if (!severity) return {};
    Finding finding = finding_of("code_module", view, *severity);
    set_figures(finding, error, *limit);
    finding.message = "Modules of " + text_of(Mm(module)) + " are " + short_number(count) +
                      " layers high on this face: they come out " + short_number(std::floor(count)) + " or " +
                      short_number(std::ceil(count)) + ", up to " + short_number(std::round(error)) + " % off.";
    locate_whole(finding, view);
    soften(finding);
    return {std::move(finding)};
}

void offer_whole_layers(const Fixer& fixer, Finding& finding) {
    const MarkView& view = fixer.view();
    const auto layer = layer_on_face(fixer.context(), view);
    if (!layer) return;
    const double now = content::size_of(view.mark->content).value, count = view.drawn->code->module_mm / *layer;
    for (const double wanted : {std::ceil(count), std::floor(count)}) {
        const double size = std::round(now * wanted / count * 1e4) / 1e4;
        if (wanted < 1) continue;
        fixer.offer(finding,
                    {"module", size_change(*view.mark, size) + ", " + short_number(wanted) + " layers",
                     edit_size(view.mark->id, size)},
                    Need::widths);
    }
}

} // namespace

void judge_code_module(const Context& context, std::size_t mark, std::vector<Finding>& findings) {
    const MarkView& view = context.marks[mark];
    for (Finding& finding : assess_lines(context, view, mark)) {
        offer_size(Fixer(context, mark, &assess_lines, finding.severity), finding,
                   *finding.comfortable / finding.figure);
        findings.push_back(std::move(finding));
    }
    for (Finding& finding : assess_layers(context, view, mark)) {
        offer_whole_layers(Fixer(context, mark, &assess_layers, finding.severity), finding);
        findings.push_back(std::move(finding));
    }
}

} // namespace touchmark::rules
