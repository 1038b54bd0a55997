// SPDX-License-Identifier: MIT
#include "core/rules/fixes.h"
#include "core/rules/narrow.h"
#include "core/rules/table.h"

#include <algorithm>
#include <cmath>

namespace touchmark::rules {
namespace {

struct Island {
    double area = 0; ///< mm²
    Box2 box;        ///< about the drawn outline's origin
    std::uint32_t region = 0;
};

/// What stands inside a hole: the counter of a cut letter. Strokes that stand in it take their share.
std::vector<Island> counters(const geometry::Outline& outline) {
    std::vector<Island> found;
    std::vector<const geometry::Contour*> holes;
    for (std::uint32_t r = 0; r < outline.regions.size(); ++r)
        for (const geometry::Contour& hole : outline.regions[r].holes) {
            found.push_back({std::abs(geometry::area(hole)), geometry::bounds(hole), r});
            holes.push_back(&hole);
        }
    if (holes.empty()) return found;
    std::vector<geometry::Polygon> polygons(holes.size());
    for (const geometry::Region& region : outline.regions) {
        const Vec2 at = region.outer.segments.front().start();
        std::optional<std::size_t> in; // the innermost
        for (std::size_t h = 0; h < holes.size(); ++h) {
            if (!found[h].box.meets({at, at})) continue;
            if (polygons[h].empty()) polygons[h] = geometry::flattened(*holes[h], 0.01);
            if (geometry::winding(polygons[h], at) != 0 &&
                (!in || std::abs(geometry::area(*holes[h])) < std::abs(geometry::area(*holes[*in]))))
                in = h;
        }
        if (in) found[*in].area -= geometry::area(region.outer);
    }
    return found;
}

std::vector<Island> strokes(const geometry::Outline& outline) {
    std::vector<Island> found;
    for (std::uint32_t r = 0; r < outline.regions.size(); ++r) {
        const geometry::Region& region = outline.regions[r];
        double area = geometry::area(region.outer);
        for (const geometry::Contour& hole : region.holes)
            area += geometry::area(hole); // clockwise, negative
        found.push_back({area, geometry::bounds(region.outer), r});
    }
    return found;
}

/// What each layer of the mark has to draw by itself where the layers lie like the face. A through cut's counters fall
/// out, or are bridged.
std::vector<Island> islands_of(const MarkView& view) {
    if (!view.drawn || !view.map || (view.zone != Zone::top && view.zone != Zone::bottom)) return {};
    std::vector<Island> found;
    const Mode mode = view.mark->mode;
    if (mode == Mode::raise || mode == Mode::inlay) found = strokes(view.drawn->outline);
    if (mode != Mode::raise && mode != Mode::through)
        for (Island& one : counters(view.drawn->outline))
            found.push_back(one);
    std::ranges::stable_sort(found, {}, &Island::area);
    return found;
}

std::string what_of(const MarkView& view) {
    const Mode mode = view.mark->mode;
    const std::string counters = mode == Mode::engrave  ? "the insides of cut letters"
                                 : mode == Mode::hidden ? "the insides of hidden letters"
                                                        : "strokes and insides of letters";
    return mode == Mode::raise ? "strokes" : counters;
}

std::vector<Finding> assess_count(const Context& context, const MarkView& view, std::size_t) {
    const process::Limit* limit = context.process.limit("islands", view.mark->mode, view.zone);
    if (!limit) return {};
    const auto figure = static_cast<double>(islands_of(view).size());
    const auto severity = at_most(figure, *limit);
    if (!severity) return {};
    Finding finding = finding_of("islands", view, *severity);
    set_figures(finding, figure, *limit);
    finding.message = "Each layer of the mark has " + short_number(figure) + " islands, " + what_of(view) +
                      ", each with a travel and a retraction; up to " + short_number(missed(finding)) +
                      (*severity == Severity::blocker ? " is usual." : " runs without a thought.");
    locate_whole(finding, view);
    soften(finding);
    return {std::move(finding)};
}

std::vector<Finding> assess_area(const Context& context, const MarkView& view, std::size_t) {
    const process::Limit* limit = context.process.limit("island_area", view.mark->mode, view.zone);
    if (!limit) return {};
    const std::vector<Island> islands = islands_of(view);
    if (islands.empty()) return {};
    const auto severity = at_least(islands.front().area, *limit);
    if (!severity) return {};
    Finding finding = finding_of("islands", view, *severity);
    set_figures(finding, islands.front().area, *limit);
    std::vector<Vec2> where;
    std::vector<std::string> names;
    for (const Island& one : islands) {
        if (one.area >= limit->comfortable.value - same) break;
        if (where.size() < most_spots) where.push_back(on_map(view, one.box.centre()));
        const content::Piece* piece = piece_of(*view.drawn, one.region);
        std::string name = piece ? in_quotes(piece->label) : "the mark";
        if (std::ranges::find(names, name) == names.end()) names.push_back(std::move(name));
    }
    const bool counter = view.mark->mode == Mode::engrave || view.mark->mode == Mode::hidden;
    finding.message = std::string(counter ? "The inside of " : "What stands by itself of ") + some_of(names) +
                      " is an island of " + short_number(finding.figure) + " mm²" +
                      (view.zone == Zone::bottom ? " on the plate; " : " in each layer; ") +
                      short_number(missed(finding)) + " mm² " +
                      (*severity == Severity::blocker ? "takes hold." : "stays where it is.");
    const Box2& box = islands.front().box;
    locate(finding, view, std::move(where), std::max({0.5, box.width(), box.height()}));
    return {std::move(finding)};
}

void offer_elsewhere(const Fixer& fixer, Finding& finding) {
    if (fixer.view().mark->mode == Mode::raise)
        fixer.offer(finding, {"engrave", "Engrave instead of raise", edit_mode(fixer.view().mark->id, Mode::engrave)},
                    Need::widths);
    offer_side_wall_face(fixer, finding);
    if (finding.fixes.empty()) offer_stand(fixer, finding);
}

} // namespace

void judge_islands(const Context& context, std::size_t mark, std::vector<Finding>& findings) {
    const MarkView& view = context.marks[mark];
    for (Finding& finding : assess_count(context, view, mark)) {
        offer_elsewhere(Fixer(context, mark, &assess_count, finding.severity), finding);
        findings.push_back(std::move(finding));
    }
    for (Finding& finding : assess_area(context, view, mark)) {
        const Fixer fixer(context, mark, &assess_area, finding.severity);
        offer_size(fixer, finding, std::sqrt(*finding.comfortable / finding.figure));
        offer_elsewhere(fixer, finding);
        findings.push_back(std::move(finding));
    }
}

} // namespace touchmark::rules
