// SPDX-License-Identifier: MIT
#include "core/geometry/width.h"

#include "core/geometry/bezier.h"
#include "core/geometry/box_tree.h"
#include "core/geometry/facing_axis.h"

#include <algorithm>
#include <cmath>
#include <unordered_map>

namespace touchmark::geometry {
namespace {

/// The axis is found on polygons this much coarser than the tolerance; widths are then measured on the curves.
constexpr double coarser = 4;
/// Pairs of regions are looked at for each region's nearest neighbours only.
constexpr std::size_t most_neighbours = 12;

template <class Visit> void for_each_segment(const Region& region, Visit&& visit) {
    for (const Segment& segment : region.outer.segments)
        visit(segment);
    for (const Contour& hole : region.holes)
        for (const Segment& segment : hole.segments)
            visit(segment);
}

std::vector<Polygon> polygons_of(const Region& region, double tolerance) {
    std::vector<Polygon> polygons{flattened(region.outer, tolerance)};
    for (const Contour& hole : region.holes)
        polygons.push_back(flattened(hole, tolerance));
    return polygons;
}

Vec2 nearest_on(const Segment& segment, Vec2 p) {
    if (segment.degree == 1) return geometry::nearest_on(segment.start(), segment.end(), p);
    constexpr int samples = 8;
    double best = 0, least = std::numeric_limits<double>::infinity();
    for (int i = 0; i <= samples; ++i) {
        const double t = static_cast<double>(i) / samples, d = distance(point_at(segment, t), p);
        if (d < least) best = t, least = d;
    }
    for (int i = 0; i < 4; ++i) {
        const Vec2 way = derivative_at(segment, best);
        const double square = dot(way, way);
        if (square == 0) break;
        best = std::clamp(best + dot(p - point_at(segment, best), way) / square, 0.0, 1.0);
    }
    return point_at(segment, best);
}

/// The point of the region's true boundary nearest to one that is within `reach` of it.
Vec2 on_boundary(const Region& region, Vec2 p, double reach) {
    Vec2 best = p;
    double least = reach;
    for_each_segment(region, [&](const Segment& segment) {
        const Box2 box = hull_box(segment);
        if (p.x < box.low.x - least || p.x > box.high.x + least || p.y < box.low.y - least || p.y > box.high.y + least)
            return;
        const Vec2 q = nearest_on(segment, p);
        if (const double d = distance(p, q); d < least) best = q, least = d;
    });
    return best;
}

/// What one region has by itself, about its own first point.
struct Own {
    std::vector<Pinch> strokes, gaps;
    std::vector<Passage> along_strokes, along_gaps;
};

/// Whether the discs of all are as large as the boundary allows: the quick diagram's errors show here.
bool sound(const std::vector<Pinch>& pinches, const std::vector<Polygon>& polygons, double tolerance) {
    return std::ranges::all_of(pinches, [&](const Pinch& pinch) {
        double least = std::numeric_limits<double>::infinity();
        for (const Polygon& polygon : polygons)
            least = std::min(least, distance_to_boundary(polygon, pinch.at));
        return std::abs(2 * least - pinch.width) <= 2 * tolerance;
    });
}

/// On the curves themselves.
void measure(Pinch& pinch, const Region& region, double reach) {
    pinch.side_a = on_boundary(region, pinch.side_a, reach);
    pinch.side_b = on_boundary(region, pinch.side_b, reach);
    if (pinch.opposite) {
        pinch.at = (pinch.side_a + pinch.side_b) * 0.5;
        pinch.width = distance(pinch.side_a, pinch.side_b);
    } else {
        pinch.width = distance(pinch.side_a, pinch.at) + distance(pinch.side_b, pinch.at);
    }
}

double narrowest(const Own& own) {
    double least = std::numeric_limits<double>::infinity();
    for (const std::vector<Pinch>* pinches : {&own.strokes, &own.gaps})
        for (const Pinch& pinch : *pinches)
            least = std::min(least, pinch.width);
    return least;
}

/// A counter without facing sides, as of an A, is as wide as the largest disc in it.
void add_counters(std::vector<Pinch>& gaps, const FacingAxis& outside, const std::vector<Polygon>& polygons) {
    const std::vector<Pinch> facing = gaps;
    for (const Polygon& hole : std::span(polygons).subspan(1)) {
        const bool known = std::ranges::any_of(facing, [&](const Pinch& gap) { return winding(hole, gap.at) != 0; });
        if (known) continue;
        if (const auto widest = outside.widest_in(hole)) gaps.push_back(*widest);
    }
}

Own own_widths(const Region& region, double tolerance) {
    // Where curves lie closer together than the tolerance their polygons say little, or cross: then finer ones.
    const double finest = tolerance / 1024;
    for (const double flatness : {coarser * tolerance, tolerance / 4, tolerance / 64, finest}) {
        const std::vector<Polygon> polygons = polygons_of(region, flatness);
        for (const Care care : {Care::quick, Care::exact}) {
            const MedialAxis axis = medial_axis(polygons, care);
            if (axis.arcs.empty()) break;
            const FacingAxis inside(axis, true, flatness), outside(axis, false, flatness);
            Own own{inside.pinches(), outside.pinches(), inside.passages(), outside.passages()};
            if (own.strokes.empty() && !inside.empty()) own.strokes.push_back(inside.widest());
            add_counters(own.gaps, outside, polygons);
            if (narrowest(own) < 8 * flatness && flatness > finest) break;
            const bool right = sound(own.strokes, polygons, flatness) && sound(own.gaps, polygons, flatness);
            if (!right && care == Care::quick) continue;
            for (std::vector<Pinch>* pinches : {&own.strokes, &own.gaps})
                for (Pinch& pinch : *pinches)
                    measure(pinch, region, 4 * flatness);
            return own;
        }
    }
    return {};
}

/// The same letter comes again and again: equal but for its place, to a millionth of a millimetre.
Digest shape_of(const Region& region, Vec2 origin) {
    Digester digester;
    for_each_segment(region, [&](const Segment& segment) {
        digester.add(segment.degree);
        for (int i = 0; i <= segment.degree; ++i) {
            const Vec2 p = (segment.points[static_cast<std::size_t>(i)] - origin) * 1e6;
            digester.add(std::llround(p.x)).add(std::llround(p.y));
        }
    });
    return digester.digest();
}

/// All regions' boundaries as edges in one tree.
class Field {
public:
    Field(const Outline& outline, double tolerance) {
        std::vector<Box2> boxes;
        for (std::uint32_t r = 0; r < outline.regions.size(); ++r) {
            region_boxes_.push_back(bounds(outline.regions[r].outer));
            first_.push_back(static_cast<std::uint32_t>(edges_.size()));
            for (const Polygon& polygon : polygons_of(outline.regions[r], tolerance))
                for (std::size_t i = 0; i < polygon.size(); ++i) {
                    const Edge edge{polygon[i], polygon[i + 1 == polygon.size() ? 0 : i + 1], r};
                    edges_.push_back(edge);
                    boxes.emplace_back();
                    boxes.back().add(edge.a);
                    boxes.back().add(edge.b);
                }
        }
        first_.push_back(static_cast<std::uint32_t>(edges_.size()));
        tree_.emplace(boxes);
    }

    /// Whether a disc, less `slack`, holds boundary of a region other than the two.
    bool blocked(Vec2 at, double radius, std::uint32_t a, std::uint32_t b, double slack) const {
        const double r = radius - slack;
        bool found = false;
        tree_->query({at - Vec2{r, r}, at + Vec2{r, r}}, [&](std::uint32_t i) {
            const Edge& edge = edges_[i];
            if (edge.region != a && edge.region != b && !found)
                found = distance(geometry::nearest_on(edge.a, edge.b, at), at) < r;
        });
        return found;
    }

    /// Regions near each other, each pair once, whose gap may be below the limit.
    std::vector<std::pair<std::uint32_t, std::uint32_t>> neighbours(double below) const {
        const auto count = static_cast<std::uint32_t>(region_boxes_.size());
        std::vector<std::pair<std::uint32_t, std::uint32_t>> pairs;
        std::vector<std::pair<double, std::uint32_t>> others;
        for (std::uint32_t i = 0; i < count; ++i) {
            others.clear();
            for (std::uint32_t j = 0; j < count; ++j) {
                if (i == j) continue;
                const Box2 &p = region_boxes_[i], &q = region_boxes_[j];
                const double dx = std::max({p.low.x - q.high.x, q.low.x - p.high.x, 0.0});
                const double dy = std::max({p.low.y - q.high.y, q.low.y - p.high.y, 0.0});
                if (const double gap = dx * dx + dy * dy; gap < below * below) others.emplace_back(gap, j);
            }
            const std::size_t some = std::min(others.size(), most_neighbours);
            std::ranges::partial_sort(others, others.begin() + static_cast<std::ptrdiff_t>(some));
            for (std::size_t k = 0; k < some; ++k)
                pairs.push_back(std::minmax(i, others[k].second));
        }
        std::ranges::sort(pairs);
        const auto same = std::ranges::unique(pairs);
        pairs.erase(same.begin(), same.end());
        return pairs;
    }

    /// Where two regions come closest; along parallel edges in the middle of the longest.
    Approach closest(std::uint32_t a, std::uint32_t b) const {
        constexpr double equal = 1e-9;
        Approach best{std::numeric_limits<double>::infinity(), {}, {}, false};
        double longest = 0;
        for (std::uint32_t i = first_[a]; i < first_[a + 1]; ++i) {
            const Box2 box = box_of(edges_[i]);
            if (apart(box, region_boxes_[b]) > best.distance + equal) continue;
            for (std::uint32_t j = first_[b]; j < first_[b + 1]; ++j) {
                if (apart(box, box_of(edges_[j])) > best.distance + equal) continue;
                Approach here = approach(edges_[i].a, edges_[i].b, edges_[j].a, edges_[j].b);
                if (here.distance > best.distance + equal) continue;
                const double along = centred(edges_[i], edges_[j], here);
                if (here.distance < best.distance - equal || along > longest) best = here, longest = along;
            }
        }
        return best;
    }

private:
    struct Edge {
        Vec2 a, b;
        std::uint32_t region;
    };
    static Box2 box_of(const Edge& edge) {
        Box2 box;
        box.add(edge.a);
        box.add(edge.b);
        return box;
    }
    /// For parallel edges moves the approach to the middle of what faces; returns the length of that.
    static double centred(const Edge& p, const Edge& q, Approach& here) {
        const Vec2 along = p.b - p.a;
        const double square = dot(along, along);
        if (std::abs(cross(along, q.b - q.a)) > 1e-3 * std::sqrt(square) * distance(q.a, q.b)) return 0;
        const double u = dot(q.a - p.a, along) / square, v = dot(q.b - p.a, along) / square;
        const double from = std::max(0.0, std::min(u, v)), to = std::min(1.0, std::max(u, v));
        if (from >= to) return 0;
        here.on_a = p.a + along * ((from + to) / 2);
        here.on_b = geometry::nearest_on(q.a, q.b, here.on_a);
        return (to - from) * std::sqrt(square);
    }
    static double apart(const Box2& p, const Box2& q) {
        const double dx = std::max({p.low.x - q.high.x, q.low.x - p.high.x, 0.0});
        const double dy = std::max({p.low.y - q.high.y, q.low.y - p.high.y, 0.0});
        return std::sqrt(dx * dx + dy * dy);
    }

    std::vector<Box2> region_boxes_;
    std::vector<Edge> edges_;
    std::vector<std::uint32_t> first_;
    std::optional<BoxTree> tree_;
};

std::vector<Narrow> gaps_between(const Outline& outline, const Field& field, double below, double reach) {
    std::vector<Narrow> gaps;
    for (const auto& [a, b] : field.neighbours(below)) {
        const Approach gap = field.closest(a, b);
        if (gap.distance >= below + reach || field.blocked((gap.on_a + gap.on_b) * 0.5, gap.distance / 2, a, b, reach))
            continue;
        const Vec2 on_a = on_boundary(outline.regions[a], gap.on_a, reach);
        const Vec2 on_b = on_boundary(outline.regions[b], gap.on_b, reach);
        gaps.push_back({(on_a + on_b) * 0.5, on_a, on_b, distance(on_a, on_b), a, b});
    }
    return gaps;
}

void finish(std::vector<Narrow>& found, double below) {
    std::erase_if(found, [&](const Narrow& narrow) { return !(narrow.width < below); });
    std::ranges::sort(found, {}, &Narrow::width);
}

} // namespace

Widths widths(const Outline& outline, const WidthOptions& options) {
    Widths result;
    if (outline.empty()) return result;
    const double flatness = coarser * options.tolerance;
    const Field field(outline, flatness);
    struct Known {
        Own own;
        Vec2 origin;
    };
    std::unordered_map<Digest, Known> known;
    for (std::uint32_t r = 0; r < outline.regions.size(); ++r) {
        const Region& region = outline.regions[r];
        const Vec2 origin = region.outer.segments.front().start();
        auto [found, fresh] = known.try_emplace(shape_of(region, origin));
        if (fresh) found->second = {own_widths(region, options.tolerance), origin};
        const Vec2 by = origin - found->second.origin;
        auto placed = [&](const Pinch& pinch) {
            return Narrow{pinch.at + by, pinch.side_a + by, pinch.side_b + by, pinch.width, r, r};
        };
        for (const Pinch& pinch : found->second.own.strokes)
            result.strokes.push_back(placed(pinch));
        for (const Passage& one : found->second.own.along_strokes)
            result.stroke_stretches.push_back({one.width, one.length, r, one.along});
        for (const Passage& one : found->second.own.along_gaps)
            result.gap_stretches.push_back({one.width, one.length, r, one.along});
        for (const Pinch& pinch : found->second.own.gaps)
            if (pinch.width < options.below && !field.blocked(pinch.at + by, pinch.width / 2, r, r, flatness))
                result.gaps.push_back(placed(pinch));
    }
    std::ranges::move(gaps_between(outline, field, options.below, 2 * flatness), std::back_inserter(result.gaps));
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
