// SPDX-License-Identifier: MIT
#include "core/geometry/width.h"

#include "core/geometry/medial_axis.h"

#include <algorithm>
#include <cmath>

namespace touchmark::geometry {
namespace {

/// Cosine of 150°: sides that diverge by 30° or more form a corner, not a stroke.
const double facing = -std::sqrt(3.0) / 2;
/// Places of nearly the same width with no wider one between them are one place: relative difference.
constexpr double same_width = 0.03;
/// At or below this (mm) the axis has reached the boundary.
constexpr double at_boundary = 5e-6;

constexpr std::uint32_t none = 0xffffffff;

/// The facing part of the axis on one side of the boundary.
class Strokes {
public:
    Strokes(MedialAxis axis, bool inside, double tolerance) : axis_(std::move(axis)), tolerance_(tolerance) {
        std::erase_if(axis_.arcs, [&](const MedialAxis::Arc& arc) { return arc.inside != inside; });
        faces_.assign(axis_.nodes.size(), false);
        through_.assign(axis_.arcs.size(), false);
        arcs_of_.resize(axis_.nodes.size());
        for (std::uint32_t i = 0; i < axis_.arcs.size(); ++i) {
            const MedialAxis::Arc& arc = axis_.arcs[i];
            const bool from = arc.from_facing <= facing, to = arc.to_facing <= facing;
            if (from) faces_[arc.from] = true;
            if (to) faces_[arc.to] = true;
            through_[i] = from && to;
            arcs_of_[arc.from].push_back(i);
            arcs_of_[arc.to].push_back(i);
        }
        const auto count = axis_.nodes.size();
        for (std::uint32_t node = 0; node < count; ++node)
            if (faces_[node] && radius(node) <= at_boundary) trim_tip(node);
    }

    /// Every local minimum of the width.
    std::vector<Narrow> narrows() const {
        std::vector<std::uint32_t> order;
        for (std::uint32_t i = 0; i < axis_.nodes.size(); ++i)
            if (faces_[i]) order.push_back(i);
        std::sort(order.begin(), order.end(),
                  [&](std::uint32_t a, std::uint32_t b) { return std::pair(radius(a), a) < std::pair(radius(b), b); });
        std::vector<std::uint32_t> parent(axis_.nodes.size(), none), lowest(axis_.nodes.size(), none);
        auto root = [&](std::uint32_t i) {
            while (parent[i] != i)
                i = parent[i] = parent[parent[i]];
            return i;
        };
        std::vector<Narrow> found;
        for (const std::uint32_t node : order) { // the water rises; two lakes meet at a pass
            parent[node] = node;
            lowest[node] = node;
            for (const std::uint32_t index : arcs_of_[node]) {
                const std::uint32_t other = across(index, node);
                if (!through_[index] || parent[other] == none) continue;
                const std::uint32_t a = root(node), b = root(other);
                if (a == b) continue;
                const bool a_lower = radius(lowest[a]) <= radius(lowest[b]);
                const std::uint32_t keep = a_lower ? a : b, drown = a_lower ? b : a;
                if (deep(lowest[drown], radius(node))) found.push_back(place(lowest[drown]));
                parent[drown] = keep;
            }
        }
        for (const std::uint32_t node : order)
            if (root(node) == node) found.push_back(place(lowest[node]));
        return found;
    }

    /// The largest disc of each region that is not in `known`.
    void add_widest(std::vector<Narrow>& found, std::size_t regions) const {
        std::vector<bool> known(regions, false);
        for (const Narrow& narrow : found)
            known[narrow.region] = true;
        std::vector<std::uint32_t> widest(regions, none);
        for (const MedialAxis::Arc& arc : axis_.arcs)
            for (const std::uint32_t node : {arc.from, arc.to})
                if (widest[arc.region_a] == none || radius(widest[arc.region_a]) < radius(node))
                    widest[arc.region_a] = node;
        for (std::size_t region = 0; region < regions; ++region)
            if (!known[region] && widest[region] != none) found.push_back(place(widest[region]));
    }

private:
    double radius(std::uint32_t node) const { return axis_.nodes[node].radius; }
    std::uint32_t across(std::uint32_t arc, std::uint32_t node) const {
        return axis_.arcs[arc].from == node ? axis_.arcs[arc].to : axis_.arcs[arc].from;
    }
    double extent(std::uint32_t arc) const {
        return distance(axis_.nodes[axis_.arcs[arc].from].at, axis_.nodes[axis_.arcs[arc].to].at);
    }
    bool deep(std::uint32_t low, double pass) const {
        return 2 * (pass - radius(low)) > std::max(4 * tolerance_, same_width * 2 * radius(low));
    }

    /// Of a stroke that runs out in a point, as much as it is wide is its tip and does not count.
    void trim_tip(std::uint32_t tip) {
        std::vector<std::uint32_t> path; // arcs from the tip on, ever wider
        for (std::uint32_t at = tip;;) {
            std::uint32_t onward = none;
            int choices = 0;
            for (const std::uint32_t index : arcs_of_[at]) {
                if (!through_[index] || (!path.empty() && index == path.back())) continue;
                ++choices;
                onward = index;
            }
            if (choices != 1 || radius(across(onward, at)) <= radius(at)) break;
            path.push_back(onward);
            at = across(onward, at);
        }
        double top = 0, left = 0;
        for (const std::uint32_t index : path)
            top = std::max({top, 2 * radius(axis_.arcs[index].from), 2 * radius(axis_.arcs[index].to)});
        left = top;
        std::uint32_t at = tip;
        faces_[tip] = false;
        for (const std::uint32_t index : path) {
            const std::uint32_t next = across(index, at);
            const double step = extent(index);
            if (step > left) {
                shorten(index, at, left / step);
                return;
            }
            left -= step;
            through_[index] = false;
            faces_[at] = false;
            at = next;
        }
    }

    /// Moves the end of an arc at `node` a part of the way along it, to a new node.
    void shorten(std::uint32_t index, std::uint32_t node, double part) {
        MedialAxis::Arc& arc = axis_.arcs[index];
        const bool at_from = arc.from == node;
        const std::uint32_t other = across(index, node);
        auto mixed = [&](Vec2 p, Vec2 q) { return p + (q - p) * part; };
        const MedialAxis::Node cut{mixed(axis_.nodes[node].at, axis_.nodes[other].at),
                                   radius(node) + (radius(other) - radius(node)) * part};
        const auto fresh = static_cast<std::uint32_t>(axis_.nodes.size());
        axis_.nodes.push_back(cut);
        (at_from ? arc.from_a : arc.to_a) = at_from ? mixed(arc.from_a, arc.to_a) : mixed(arc.to_a, arc.from_a);
        (at_from ? arc.from_b : arc.to_b) = at_from ? mixed(arc.from_b, arc.to_b) : mixed(arc.to_b, arc.from_b);
        (at_from ? arc.from : arc.to) = fresh;
        faces_[node] = false;
        faces_.push_back(true);
        arcs_of_.push_back({index});
    }

    /// A node as a finding; on a stretch of equal width its middle.
    Narrow place(std::uint32_t node) const {
        const MedialAxis::Arc* best = nullptr;
        bool stretch = false;
        double longest = -1, straightest = 2;
        for (const std::uint32_t index : arcs_of_[node]) {
            const MedialAxis::Arc& arc = axis_.arcs[index];
            const bool level = through_[index] && std::abs(radius(arc.from) - radius(arc.to)) <= tolerance_ / 4;
            const double angle = arc.from == node ? arc.from_facing : arc.to_facing;
            if (level ? extent(index) > longest : longest < 0 && angle < straightest) {
                best = &arc;
                stretch = level;
                if (level) longest = extent(index);
                straightest = angle;
            }
        }
        if (!best) return {};
        Narrow narrow{.at = axis_.nodes[node].at,
                      .side_a = {},
                      .side_b = {},
                      .width = 2 * radius(node),
                      .region = best->region_a,
                      .other_region = best->region_b};
        if (stretch) {
            narrow.at = (axis_.nodes[best->from].at + axis_.nodes[best->to].at) * 0.5;
            narrow.side_a = (best->from_a + best->to_a) * 0.5;
            narrow.side_b = (best->from_b + best->to_b) * 0.5;
        } else {
            narrow.side_a = best->from == node ? best->from_a : best->to_a;
            narrow.side_b = best->from == node ? best->from_b : best->to_b;
        }
        return narrow;
    }

    MedialAxis axis_;
    double tolerance_;
    std::vector<bool> faces_;   ///< nodes at which two sides face each other
    std::vector<bool> through_; ///< arcs along which they do
    std::vector<std::vector<std::uint32_t>> arcs_of_;
};

void finish(std::vector<Narrow>& found, double below) {
    std::erase_if(found, [&](const Narrow& narrow) { return !(narrow.width < below); });
    std::sort(found.begin(), found.end(), [](const Narrow& a, const Narrow& b) { return a.width < b.width; });
}

} // namespace

Widths widths(const Outline& outline, const WidthOptions& options) {
    const MedialAxis axis = medial_axis(outline, options.tolerance);
    Widths result;
    const Strokes material(axis, true, options.tolerance);
    result.strokes = material.narrows();
    material.add_widest(result.strokes, outline.regions.size());
    result.gaps = Strokes(axis, false, options.tolerance).narrows();
    finish(result.strokes, options.below);
    finish(result.gaps, options.below);
    return result;
}

std::vector<Narrow> stroke_widths(const Outline& outline, const WidthOptions& options) {
    return widths(outline, options).strokes;
}

std::vector<Narrow> gap_widths(const Outline& outline, const WidthOptions& options) {
    return widths(outline, options).gaps;
}

} // namespace touchmark::geometry
