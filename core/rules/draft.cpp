// SPDX-License-Identifier: MIT
#include "core/rules/fixes.h"
#include "core/rules/table.h"

#include "core/base/number_text.h"
#include "core/imprint/extent.h"
#include "core/job/parameter.h"

#include <cmath>

namespace touchmark::rules {
namespace {

imprint::WallShape shape_of(const job::Mark& mark) {
    imprint::Footprint walls;
    walls.mode = mark.mode;
    walls.depth = mark.depth;
    walls.draft = mark.draft;
    walls.floor_rounding = mark.floor_rounding;
    return imprint::shape_of(walls).value_or(imprint::WallShape{mark.depth.value});
}

/// Where walls that come in so far would meet.
std::vector<Vec2> places(const geometry::Outline& outline, double reach) {
    std::vector<Vec2> out;
    for (const geometry::Region& region : outline.regions)
        if (const auto at = geometry::inset_fault(region, geometry::InsetRegion(region), reach)) out.push_back(*at);
    return out;
}

/// The farthest that walls can come in, mm, to 0.001.
double room_for(const geometry::Outline& outline, double too_far) {
    double good = 0, bad = too_far;
    while (bad - good > 1e-3) {
        const double middle = (good + bad) / 2;
        (places(outline, middle).empty() ? good : bad) = middle;
    }
    return good;
}

std::vector<Finding> assess(const Context&, const MarkView& view, std::size_t) {
    const job::Mark& mark = *view.mark;
    const imprint::WallShape shape = shape_of(mark);
    if (shape.is_plain() || !view.drawn) return {};
    Finding finding = finding_of("draft", view, Severity::blocker);
    finding.source = "computed: the outline drawn in as far as the walls come";
    if (view.map && view.map->kind() != part::FaceKind::plane) {
        const bool leans = shape.slope > 0;
        finding.figure = leans ? mark.draft.value : mark.floor_rounding.value;
        finding.unit = leans ? "°" : "mm";
        finding.message = std::string("Walls can ") + (leans ? "lean" : "be rounded at the floor") +
                          " on flat faces only, and this one is bent.";
        locate_whole(finding, view);
        return {finding};
    }
    if (shape.depth - shape.rounding * (1 - std::sin(std::atan(shape.slope))) < 0) {
        finding.figure = mark.floor_rounding.value;
        finding.limit = mark.depth.value;
        finding.unit = "mm";
        finding.message = "The rounding at the floor is " + apart(finding.figure, finding.limit) +
                          " high, but the wall only " + touchmark::text_of(mark.depth) + ".";
        locate_whole(finding, view);
        return {finding};
    }
    const double reach = shape.reach();
    const std::vector<Vec2> meet = places(view.drawn->outline, reach);
    if (meet.empty()) return {};
    finding.figure = reach;
    finding.limit = room_for(view.drawn->outline, reach);
    finding.unit = "mm";
    finding.message = "The walls come in by " + apart(reach, finding.limit) +
                      " on each side and would meet before the floor; there is room for " +
                      touchmark::text_of(Mm(finding.limit)) + ".";
    std::vector<Vec2> where;
    for (const Vec2 at : meet)
        where.push_back(on_map(view, at));
    locate(finding, view, std::move(where), std::max(1.0, 4 * reach));
    return {finding};
}

job::Edit edit_walls(std::string mark, double draft, double rounding) {
    return [mark = std::move(mark), draft, rounding](const job::Job& job) -> Result<job::Job> {
        auto leaning = job::set_parameter(job, mark, "draft", draft);
        if (!leaning) return leaning;
        return job::set_parameter(*std::move(leaning), mark, "floor_rounding", rounding);
    };
}

/// The greatest draft, in steps of half a degree, whose walls come in no more than `room`.
double draft_for(const job::Mark& mark, double room) {
    constexpr double step = 0.5;
    double draft = rounded_down(mark.draft.value, step);
    for (; draft > 0; draft -= step) {
        job::Mark lowered = mark;
        lowered.draft = Degrees(draft);
        if (shape_of(lowered).reach() <= room) break;
    }
    return std::max(draft, 0.0);
}

} // namespace

void judge_draft(const Context& context, std::size_t mark, std::vector<Finding>& findings) {
    const MarkView& view = context.marks[mark];
    const job::Mark& of = *view.mark;
    for (Finding& finding : assess(context, view, mark)) {
        const Fixer fixer(context, mark, &assess, finding.severity);
        const double rounding = of.floor_rounding.value;
        const auto draft_title = [&](double draft) {
            return "Draft " + short_number(of.draft.value) + " → " + short_number(draft) + "°";
        };
        bool helped = false;
        if (of.draft.value > 0) {
            const double draft = draft_for(of, finding.limit);
            helped =
                fixer.offer(finding, {"draft", draft_title(draft), edit_walls(of.id, draft, rounding)}, Need::widths);
        }
        if (rounding > 0) {
            const double smaller = of.draft.value > 0 ? 0 : rounded_down(std::max(finding.limit - 1e-3, 0.0), 0.05);
            helped = fixer.offer(finding,
                                 {"floor_rounding", "Floor radius " + change_of(rounding, smaller),
                                  edit_walls(of.id, of.draft.value, smaller)},
                                 Need::widths) ||
                     helped;
        }
        if (!helped) fixer.offer(finding, {"draft", "Plain, upright walls", edit_walls(of.id, 0, 0)}, Need::widths);
        findings.push_back(std::move(finding));
    }
}

} // namespace touchmark::rules
