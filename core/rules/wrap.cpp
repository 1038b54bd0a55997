// SPDX-License-Identifier: MIT
#include "core/rules/fixes.h"
#include "core/rules/table.h"

#include "core/base/number_text.h"

#include <cmath>
#include <numbers>

namespace touchmark::rules {
namespace {

struct Turned {
    double angle = 0; ///< radians
    Vec2 at;          ///< on the map
};

/// Where the mark turns farthest away from its middle, among its ends in sixteen directions.
std::optional<Turned> farthest(const MarkView& view) {
    if (!view.drawn || !view.map || view.placed.empty() || view.map->kind() == part::FaceKind::plane)
        return std::nullopt;
    constexpr std::size_t directions = 16;
    std::array<Vec2, directions> ends{};
    std::array<double, directions> reach;
    reach.fill(-1e300);
    for (const geometry::Region& region : view.placed.regions)
        for (const geometry::Segment& segment : region.outer.segments)
            for (std::size_t d = 0; d < directions; ++d) {
                const double angle = 2 * std::numbers::pi * static_cast<double>(d) / directions;
                const double along = dot(segment.start() - view.mark->anchor.at, {std::cos(angle), std::sin(angle)});
                if (along > reach[d]) reach[d] = along, ends[d] = segment.start();
            }
    const Vec3 front = view.map->normal(view.mark->anchor.at);
    Turned worst;
    for (const Vec2 end : ends) {
        const double angle = std::acos(std::clamp(dot(view.map->normal(end), front), -1.0, 1.0));
        if (angle > worst.angle) worst = {angle, end};
    }
    return worst;
}

std::vector<Finding> assess_lettering(const Context& context, const MarkView& view) {
    const process::Limit* limit = context.process.limit("wrap_angle", view.mark->mode, view.zone);
    const auto worst = limit ? farthest(view) : std::nullopt;
    if (!worst) return {};
    const double angle = Degrees::from_radians(worst->angle).value;
    const auto severity = at_most(angle, *limit);
    if (!severity) return {};
    Finding finding = finding_of("wrap", view, *severity);
    set_figures(finding, angle, *limit);
    finding.unit = "°";
    finding.message = "The mark's end turns " + text_of(Degrees(angle)) + " away from its middle: " +
                      (*severity == Severity::blocker ? "from in front it is out of sight."
                                                      : "from in front it looks only " +
                                                            short_number(100 * std::cos(worst->angle)) + " % as wide.");
    locate(finding, view, {worst->at}, std::max(view.drawn->extent.width(), view.drawn->extent.height()));
    soften(finding);
    return {std::move(finding)};
}

/// On a cylinder half the angle that it fills, in radians, is its width over the diameter.
std::vector<Finding> assess_code(const Context& context, const MarkView& view) {
    const process::Limit* limit = context.process.limit("code_wrap", view.mark->mode, view.zone);
    const auto worst = limit ? farthest(view) : std::nullopt;
    if (!worst) return {};
    const double share = 100 * worst->angle;
    const auto severity = at_most(share, *limit);
    if (!severity) return {};
    Finding finding = finding_of("wrap", view, *severity);
    set_figures(finding, share, *limit);
    finding.message = "The code is " + short_number(share) + " % of the bend's diameter wide; a scanner sees up to " +
                      short_number(missed(finding)) + " % in one look.";
    locate(finding, view, {worst->at}, std::max(view.drawn->extent.width(), view.drawn->extent.height()));
    soften(finding);
    return {std::move(finding)};
}

std::vector<Finding> assess(const Context& context, const MarkView& view, std::size_t) {
    return view.drawn && view.drawn->code ? assess_code(context, view) : assess_lettering(context, view);
}

/// Angles go with lengths.
void offer_narrower(const Fixer& fixer, Finding& finding) {
    const MarkView& view = fixer.view();
    const double now = content::size_of(view.mark->content).value;
    double size = rounded_down(now * *finding.comfortable / finding.figure, 0.1);
    for (int tries = 3; tries > 0 && size >= job::parameter(job::size_key(view.mark->content))->least;
         --tries, size -= 0.1)
        if (fixer.offer(finding,
                        {"smaller", size_change(*view.mark, size), edit_size(view.mark->id, rounded_up(size, 0.1))},
                        Need::placed))
            return;
}

void offer_quarter_turn(const Fixer& fixer, Finding& finding) {
    job::Anchor anchor = fixer.view().mark->anchor;
    anchor.turn = Degrees(anchor.turn.value > 90 ? anchor.turn.value - 270 : anchor.turn.value + 90);
    fixer.offer(finding, {"turn", "Turn by 90°, along the part", edit_anchor(fixer.view().mark->id, anchor)},
                Need::placed);
}

} // namespace

void judge_wrap(const Context& context, std::size_t mark, std::vector<Finding>& findings) {
    for (Finding& finding : assess(context, context.marks[mark], mark)) {
        const Fixer fixer(context, mark, &assess, finding.severity);
        if (context.what_if) {
            offer_narrower(fixer, finding);
            offer_quarter_turn(fixer, finding);
            offer_side_wall_face(fixer, finding);
        }
        findings.push_back(std::move(finding));
    }
}

} // namespace touchmark::rules
