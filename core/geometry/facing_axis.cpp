// SPDX-License-Identifier: MIT
#include "core/geometry/facing_axis.h"

#include <algorithm>
#include <cmath>

namespace touchmark::geometry {
namespace {

/// Cosine of 160°: sides that diverge by 20° or more form a corner, not a stroke.
constexpr double facing = -0.9396926207859084;
/// Cosine of 120°: how far sides may diverge in between two places for these to be parts of one stroke. Well beyond
/// `facing`, since polygons of curves turn by some degrees at each corner.
constexpr double linked = -0.5;
/// Places of nearly the same width with no wider one between them are one place: relative difference.
constexpr double same_width = 0.03;
/// At or below this (mm) the axis has reached the boundary.
constexpr double at_boundary = 5e-6;

constexpr std::uint32_t none = 0xffffffff;

} // namespace

FacingAxis::FacingAxis(const MedialAxis& axis, bool inside, double tolerance) : tolerance_(tolerance) {
    axis_.nodes = axis.nodes;
    std::ranges::copy_if(axis.arcs, std::back_inserter(axis_.arcs),
                         [&](const MedialAxis::Arc& arc) { return arc.inside == inside; });
    faces_.assign(axis_.nodes.size(), false);
    through_.assign(axis_.arcs.size(), false);
    arcs_of_.resize(axis_.nodes.size());
    for (std::uint32_t i = 0; i < axis_.arcs.size(); ++i) {
        const MedialAxis::Arc& arc = axis_.arcs[i];
        const bool from = arc.from_facing <= facing, to = arc.to_facing <= facing;
        if (from) faces_[arc.from] = true;
        if (to) faces_[arc.to] = true;
        through_[i] = arc.from_facing <= linked && arc.to_facing <= linked;
        arcs_of_[arc.from].push_back(i);
        arcs_of_[arc.to].push_back(i);
    }
    const auto count = static_cast<std::uint32_t>(axis_.nodes.size());
    for (std::uint32_t node = 0; node < count; ++node)
        if (faces_[node] && radius(node) <= at_boundary) trim_tip(node);
}

std::vector<Pinch> FacingAxis::pinches() const {
    std::vector<std::uint32_t> order;
    for (std::uint32_t i = 0; i < axis_.nodes.size(); ++i)
        if (faces_[i] || std::ranges::any_of(arcs_of_[i], [&](std::uint32_t arc) { return through_[arc]; }))
            order.push_back(i);
    std::sort(order.begin(), order.end(),
              [&](std::uint32_t a, std::uint32_t b) { return std::pair(radius(a), a) < std::pair(radius(b), b); });
    // For each lake, the lowest place in it where sides face each other.
    std::vector<std::uint32_t> parent(axis_.nodes.size(), none), lowest(axis_.nodes.size(), none);
    auto root = [&](std::uint32_t i) {
        while (parent[i] != i)
            i = parent[i] = parent[parent[i]];
        return i;
    };
    std::vector<Pinch> found;
    for (const std::uint32_t node : order) { // the water rises; two lakes meet at a pass
        parent[node] = node;
        lowest[node] = faces_[node] ? node : none;
        for (const std::uint32_t index : arcs_of_[node]) {
            const std::uint32_t other = across(index, node);
            if (!through_[index] || parent[other] == none) continue;
            std::uint32_t keep = root(node), drown = root(other);
            if (keep == drown) continue;
            if (lowest[keep] == none || (lowest[drown] != none && radius(lowest[drown]) < radius(lowest[keep])))
                std::swap(keep, drown);
            if (lowest[drown] != none && deep(lowest[drown], radius(node))) found.push_back(pinch_at(lowest[drown]));
            parent[drown] = keep;
        }
    }
    for (const std::uint32_t node : order)
        if (root(node) == node && lowest[node] != none) found.push_back(pinch_at(lowest[node]));
    return found;
}

std::vector<Passage> FacingAxis::passages() const {
    std::vector<Passage> found;
    for (std::uint32_t i = 0; i < axis_.arcs.size(); ++i) {
        const MedialAxis::Arc& arc = axis_.arcs[i];
        const double length = extent(i);
        if (!through_[i] || !(length > 0)) continue;
        const Vec2 along = (axis_.nodes[arc.to].at - axis_.nodes[arc.from].at) * (1 / length);
        found.push_back({radius(arc.from) + radius(arc.to), length, along});
    }
    return found;
}

Pinch FacingAxis::widest() const {
    std::uint32_t best = axis_.arcs.front().from;
    for (const MedialAxis::Arc& arc : axis_.arcs)
        for (const std::uint32_t node : {arc.from, arc.to})
            if (radius(node) > radius(best)) best = node;
    return pinch_at(best);
}

std::optional<Pinch> FacingAxis::widest_in(std::span<const Vec2> polygon) const {
    std::optional<std::uint32_t> best;
    for (const MedialAxis::Arc& arc : axis_.arcs)
        for (const std::uint32_t node : {arc.from, arc.to})
            if ((!best || radius(node) > radius(*best)) && winding(polygon, axis_.nodes[node].at) != 0) best = node;
    return best ? std::optional(pinch_at(*best)) : std::nullopt;
}

double FacingAxis::extent(std::uint32_t arc) const {
    return distance(axis_.nodes[axis_.arcs[arc].from].at, axis_.nodes[axis_.arcs[arc].to].at);
}

bool FacingAxis::deep(std::uint32_t low, double pass) const {
    return 2 * (pass - radius(low)) > std::max(4 * tolerance_, same_width * 2 * radius(low));
}

/// Arcs from a tip on, ever wider, as long as there is but one way.
std::vector<std::uint32_t> FacingAxis::tip_path(std::uint32_t tip) const {
    std::vector<std::uint32_t> path;
    for (std::uint32_t at = tip;;) {
        std::uint32_t onward = none;
        int choices = 0;
        for (const std::uint32_t index : arcs_of_[at]) {
            if (!through_[index] || (!path.empty() && index == path.back())) continue;
            ++choices;
            onward = index;
        }
        if (choices != 1 || radius(across(onward, at)) <= radius(at)) return path;
        path.push_back(onward);
        at = across(onward, at);
    }
}

/// Of a stroke that runs out in a point, as much as it is wide is its tip and does not count.
void FacingAxis::trim_tip(std::uint32_t tip) {
    const std::vector<std::uint32_t> path = tip_path(tip);
    double left = 0;
    for (const std::uint32_t index : path)
        left = std::max({left, 2 * radius(axis_.arcs[index].from), 2 * radius(axis_.arcs[index].to)});
    std::uint32_t at = tip;
    faces_[tip] = false;
    for (const std::uint32_t index : path) {
        const std::uint32_t next = across(index, at);
        const double step = extent(index);
        if (step > left) return shorten(index, at, left / step);
        left -= step;
        through_[index] = false;
        faces_[at] = false;
        at = next;
    }
}

/// Moves the end of an arc at `node` a part of the way along it, to a new node.
void FacingAxis::shorten(std::uint32_t index, std::uint32_t node, double part) {
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

/// On a stretch of equal width its middle.
Pinch FacingAxis::pinch_at(std::uint32_t node) const {
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
            straightest = angle;
            if (level) longest = extent(index);
        }
    }
    Pinch pinch{.at = axis_.nodes[node].at,
                .side_a = {},
                .side_b = {},
                .width = 2 * radius(node),
                .opposite = straightest < -0.99};
    if (!best) return pinch;
    if (stretch) {
        pinch.at = (axis_.nodes[best->from].at + axis_.nodes[best->to].at) * 0.5;
        pinch.side_a = (best->from_a + best->to_a) * 0.5;
        pinch.side_b = (best->from_b + best->to_b) * 0.5;
    } else {
        pinch.side_a = best->from == node ? best->from_a : best->to_a;
        pinch.side_b = best->from == node ? best->from_b : best->to_b;
    }
    return pinch;
}

} // namespace touchmark::geometry
