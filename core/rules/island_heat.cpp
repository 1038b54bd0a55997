// SPDX-License-Identifier: MIT
#include "core/rules/fixes.h"
#include "core/rules/table.h"

#include <cmath>

namespace touchmark::rules {
namespace {

/// Raised where nothing else of the part is left to print: its layers are the nozzle's only work.
bool stands_alone(const Context& context, const MarkView& view) {
    if (view.mark->mode != Mode::raise || view.zone != Zone::top || !view.drawn || !view.map) return false;
    const double height = context.placement(view.map->point(view.mark->anchor.at)).z;
    return height > context.height_mm - context.process.layer_height_mm.value / 2;
}

/// Seconds that one layer takes: its area in lines, and a retraction an island. Travels come on top; on the short ways
/// from letter to letter they are a small part.
double seconds_of(const MarkView& view, const process::Process& process) {
    return geometry::area(view.drawn->outline) / process.line_width_mm.value / process.printing->speed_mm_s.value +
           static_cast<double>(view.drawn->outline.regions.size()) * process.printing->retraction_s.value;
}

std::vector<Finding> assess(const Context& context, const MarkView& view, std::size_t mark) {
    if (!context.process.printing || !stands_alone(context, view)) return {};
    double seconds = seconds_of(view, context.process);
    for (std::size_t other = 0; other < context.marks.size(); ++other)
        if (other != mark && stands_alone(context, context.marks[other]))
            seconds += seconds_of(context.marks[other], context.process);
    const process::Sourced& least = context.process.printing->least_layer_s;
    if (seconds >= least.value) return {};
    Finding finding = finding_of("island_heat", view, Severity::warning);
    finding.figure = seconds;
    finding.limit = least.value;
    finding.comfortable = least.value;
    finding.unit = "s";
    finding.source = least.source;
    finding.message = "Nothing else is left to print beside the mark: the nozzle is back on each letter after " +
                      short_number(std::round(seconds * 10) / 10) + " s, and a layer cools in " +
                      short_number(least.value) + " s. Several parts on one plate give it that time.";
    locate_whole(finding, view);
    return {std::move(finding)};
}

} // namespace

void judge_island_heat(const Context& context, std::size_t mark, std::vector<Finding>& findings) {
    const MarkView& view = context.marks[mark];
    for (Finding& finding : assess(context, view, mark)) {
        const Fixer fixer(context, mark, &assess, finding.severity);
        fixer.offer(finding, {"engrave", "Engrave instead of raise", edit_mode(view.mark->id, Mode::engrave)},
                    Need::widths);
        offer_side_wall_face(fixer, finding);
        if (finding.fixes.empty()) offer_stand(fixer, finding);
        findings.push_back(std::move(finding));
    }
}

} // namespace touchmark::rules
