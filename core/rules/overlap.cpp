// SPDX-License-Identifier: MIT
#include "core/rules/fixes.h"
#include "core/rules/outline_distance.h"
#include "core/rules/table.h"

#include "core/base/number_text.h"

#include <algorithm>
#include <array>

namespace touchmark::rules {
namespace {

const MarkView* on_same_face(const Context& context, const MarkView& view, std::size_t other) {
    const MarkView& candidate = context.marks[other];
    return view.map && candidate.map && view.drawn && candidate.drawn &&
                   surface::share_a_face(*candidate.map, *view.map)
               ? &candidate
               : nullptr;
}

/// The other mark in the mm of this one's map: on faces that cannot be rolled out each mark has its own, and each face
/// of one surface has.
geometry::Outline seen_from(const MarkView& view, const MarkView& other) {
    const bool same_face = other.map->face() == view.map->face();
    if (same_face && (!other.map->chart() || !view.map->chart())) return other.placed;
    geometry::Outline seen;
    for (const geometry::Region& region : other.placed.regions) {
        const auto carried = [&](const geometry::Contour& contour) {
            geometry::Polygon points = geometry::flattened(contour, 0.01);
            for (Vec2& p : points)
                p = same_face ? view.map->from_face(other.map->on_face(p)) : view.map->locate(other.map->point(p));
            return geometry::contour_of(points);
        };
        geometry::Region& own = seen.regions.emplace_back(geometry::Region{carried(region.outer), {}});
        for (const geometry::Contour& hole : region.holes)
            own.holes.push_back(carried(hole));
    }
    return seen;
}

/// Of `mark` against the mark `other`.
std::optional<Finding> assess_pair(const Context& context, const MarkView& view, std::size_t other) {
    const process::Limit* limit = context.process.limit("mark_gap", view.mark->mode, view.zone);
    const MarkView* neighbour = on_same_face(context, view, other);
    if (!limit || !neighbour) return std::nullopt;
    const Vec2 reach{limit->comfortable.value, limit->comfortable.value};
    const geometry::Outline beside = seen_from(view, *neighbour);
    if (!Box2{view.placed_box.low - reach, view.placed_box.high + reach}.meets(geometry::bounds(beside)))
        return std::nullopt;
    const auto near = nearness(view.placed, beside, limit->comfortable.value);
    const auto severity = near ? at_least(near->distance, *limit) : std::nullopt;
    if (!severity) return std::nullopt;
    Finding finding = finding_of("overlap", view, *severity);
    set_figures(finding, near->distance, *limit);
    const std::string name = in_quotes(neighbour->mark->name);
    if (near->distance < same)
        finding.message =
            "The mark overlaps " + name + "; " + text_of(Mm(missed(finding))) + " apart keeps both readable.";
    else
        finding.message = "The mark is " + apart(near->distance, missed(finding)) + " from " + name + "; " +
                          text_of(Mm(missed(finding))) + " keeps them apart.";
    locate(finding, view, {near->on_a, near->on_b}, std::max(1.0, 8 * limit->comfortable.value));
    return finding;
}

std::vector<Finding> assess_against(const Context& context, const MarkView& view, std::size_t mark, std::size_t count) {
    std::vector<Finding> findings;
    for (std::size_t other = 0; other < count; ++other)
        if (other != mark)
            if (auto finding = assess_pair(context, view, other)) findings.push_back(std::move(*finding));
    return findings;
}

/// Against every other mark: a move must not run into a third one.
std::vector<Finding> assess_all(const Context& context, const MarkView& view, std::size_t mark) {
    return assess_against(context, view, mark, context.marks.size());
}

struct Move {
    Vec2 by;
    std::string_view where;
};

/// Shifts along the map's axes that set the box of `view` clear of `other`, the shortest first.
std::vector<Move> moves_apart(const MarkView& view, const MarkView& other, double gap) {
    const Box2 own = view.placed_box, box = other.placed_box;
    constexpr double step = 0.05;
    std::vector<Move> moves{{{rounded_up(box.high.x + gap - own.low.x, step), 0}, "to the right"},
                            {{-rounded_up(own.high.x + gap - box.low.x, step), 0}, "to the left"},
                            {{0, rounded_up(box.high.y + gap - own.low.y, step)}, "up"},
                            {{0, -rounded_up(own.high.y + gap - box.low.y, step)}, "down"}};
    std::ranges::stable_sort(moves, {}, [](const Move& move) { return length(move.by); });
    return moves;
}

void offer_apart(const Context& context, std::size_t mark, std::size_t other, Finding& finding) {
    const MarkView& view = context.marks[mark];
    const Fixer fixer(context, mark, &assess_all, finding.severity);
    const double enough = std::min(view.margin.distance, wanted_margin(context, view));
    for (const Move& move : moves_apart(view, context.marks[other], *finding.comfortable)) {
        Fix fix{"move_apart",
                "Move " + short_number(length(move.by)) + " mm " + std::string(move.where) + ", clear of " +
                    in_quotes(context.marks[other].mark->name),
                edit_position(view.mark->id, view.mark->anchor.at + move.by)};
        const auto trial = fixer.attempt(fix.edit, Need::place);
        if (!trial || !fixer.helps(*trial) || trial->view.margin.distance < enough - same) continue;
        finding.fixes.push_back(std::move(fix));
        return;
    }
    offer_side_wall_face(fixer, finding);
}

} // namespace

void judge_overlap(const Context& context, std::size_t mark, std::vector<Finding>& findings) {
    // Each pair is named once, on the later mark.
    for (std::size_t other = 0; other < mark; ++other)
        if (auto finding = assess_pair(context, context.marks[mark], other)) {
            offer_apart(context, mark, other, *finding);
            findings.push_back(std::move(*finding));
        }
}

} // namespace touchmark::rules
