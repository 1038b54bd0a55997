// SPDX-License-Identifier: MIT
#include "core/rules/fixes.h"
#include "core/rules/narrow.h"
#include "core/rules/table.h"

#include "core/base/number_text.h"

#include <algorithm>
#include <cmath>
#include <iterator>

namespace touchmark::rules {
namespace {

/// The edge of a layer where it shows most of those under the mark.
struct Step {
    double share = 0; ///< of the stroke that lies on it, or of the mark's depth
    double step = 0;  ///< mm: along the face, or how high it stands off it
    Vec2 at;          ///< on the map
    const geometry::Narrow* stroke = nullptr;
    double tilt = 0; ///< of the face from level, degrees
};

struct Steps {
    Step along, high;
};

/// On side walls and level faces there are none. Of hidden marks nothing is seen on the face.
std::optional<Steps> steps_of(const Context& context, const MarkView& view) {
    const Mode mode = view.mark->mode;
    if (!view.drawn || !view.map || !view.strokes || mode == Mode::hidden || view.zone == Zone::side_wall ||
        view.zone == Zone::bottom)
        return std::nullopt;
    const double layer = context.process.layer_height_mm.value;
    const double extent = std::hypot(view.drawn->extent.width(), view.drawn->extent.height());
    Steps worst;
    std::size_t left = most_spots; // the narrowest come first
    for (const geometry::Narrow& stroke : *view.strokes) {
        if (left-- == 0) break;
        const Vec2 at = on_map(view, stroke.at);
        const double up = dot(view.map->normal(at), view.upward), slope = std::sqrt(std::max(0.0, 1 - up * up));
        const double along = layer / std::max(slope, 1e-9), high = layer * std::abs(up);
        if (along > extent) continue; // no edge of a layer need lie under the mark
        const double tilt = std::asin(std::min(1.0, slope)) * 180 / std::numbers::pi;
        // On a nearly level face the steps are terraces wider than strokes: only their edges show.
        if (view.zone != Zone::top && along / stroke.width > worst.along.share)
            worst.along = {along / stroke.width, along, at, &stroke, tilt};
        if (mode != Mode::through && high / view.mark->depth.value > worst.high.share)
            worst.high = {high / view.mark->depth.value, high, at, &stroke, tilt};
    }
    return worst;
}

std::vector<Finding> assess_width(const Context& context, const MarkView& view, std::size_t) {
    const process::Limit* limit = context.process.limit("step_width", view.mark->mode, view.zone);
    const auto steps = limit ? steps_of(context, view) : std::nullopt;
    if (!steps) return {};
    const Step& worst = steps->along;
    const auto severity = at_most(worst.share, *limit);
    if (!severity) return {};
    Finding finding = finding_of("stair_steps", view, *severity);
    set_figures(finding, worst.share, *limit);
    const content::Piece* piece = piece_of(*view.drawn, worst.stroke->region);
    finding.message = "At " + text_of(Degrees(worst.tilt)) + " from level a layer's step is " +
                      text_of(Mm(worst.step)) + " wide on the face, and the strokes of " +
                      (piece ? in_quotes(piece->label) : "the mark") + " " + text_of(Mm(worst.stroke->width)) + "; " +
                      (*severity == Severity::blocker ? "a step takes whole edges away." : "their edges look torn.");
    locate(finding, view, {worst.at}, std::max(1.0, 4 * worst.step));
    soften(finding);
    return {std::move(finding)};
}

std::vector<Finding> assess_height(const Context& context, const MarkView& view, std::size_t) {
    const process::Limit* limit = context.process.limit("step_height", view.mark->mode, view.zone);
    const auto steps = limit ? steps_of(context, view) : std::nullopt;
    if (!steps) return {};
    const Step& worst = steps->high;
    const auto severity = at_most(worst.share, *limit);
    if (!severity) return {};
    Finding finding = finding_of("stair_steps", view, *severity);
    set_figures(finding, worst.share, *limit);
    finding.message = "The layers' edges stand " + text_of(Mm(worst.step)) + " off the face, and the mark is " +
                      text_of(view.mark->depth) + (view.mark->mode == Mode::raise ? " high; " : " deep; ") +
                      text_of(Mm(worst.step / missed(finding))) + " stands out from them.";
    locate(finding, view, {worst.at}, std::max(1.0, 4 * worst.step));
    soften(finding);
    return {std::move(finding)};
}

} // namespace

void judge_stair_steps(const Context& context, std::size_t mark, std::vector<Finding>& findings) {
    const MarkView& view = context.marks[mark];
    // What mends the one must not bring the other: a larger mark may lie on steps that a small one fits between.
    const std::vector<Finding> heights = assess_height(context, view, mark);
    for (Finding& finding : assess_width(context, view, mark)) {
        const bool both_speak = !heights.empty() && heights.front().severity <= finding.severity;
        const Fixer fixer(context, mark, both_speak ? &assess_width : &assess_together<assess_width, assess_height>,
                          finding.severity);
        offer_size(fixer, finding, finding.figure / *finding.comfortable);
        offer_side_wall_face(fixer, finding);
        offer_stand(fixer, finding);
        findings.push_back(std::move(finding));
    }
    for (Finding finding : heights) {
        const Fixer fixer(context, mark, &assess_height, finding.severity);
        const double depth = rounded_up(view.mark->depth.value * finding.figure / *finding.comfortable, 0.05);
        fixer.offer(finding,
                    {"depth",
                     std::string(view.mark->mode == Mode::raise ? "Height off the face " : "Depth ") +
                         change_of(view.mark->depth.value, depth),
                     edit_depth(view.mark->id, depth)},
                    Need::widths);
        offer_side_wall_face(fixer, finding);
        offer_stand(fixer, finding);
        findings.push_back(std::move(finding));
    }
}

} // namespace touchmark::rules
