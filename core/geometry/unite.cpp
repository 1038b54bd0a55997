// SPDX-License-Identifier: MIT
#include "core/geometry/unite.h"

#include "core/geometry/arrangement.h"
#include "core/geometry/bezier.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace touchmark::geometry {
namespace {

/// An edge of the result: material on its left.
struct Bound {
    std::uint32_t from = 0, to = 0, contour = 0, segment = 0;
    double start = 0, end = 1;
};

/// Stretches of one curve in a row.
struct Run {
    Bound bound;
    double length = 0;
    Vec2 first, last;       ///< where it starts and ends
    bool meets_next = true; ///< false: the corner to the next run is cut
};

bool filled(int winding, FillRule rule) {
    return rule == FillRule::nonzero ? winding != 0 : (winding & 1) != 0;
}

/// Newton towards p(s) = q(t).
bool meet(const Segment& p, double& s, const Segment& q, double& t) {
    for (int i = 0; i < 12; ++i) {
        const Vec2 gap = point_at(q, t) - point_at(p, s);
        const Vec2 u = derivative_at(p, s), v = derivative_at(q, t);
        const double turn = cross(u, v);
        if (!(std::abs(turn) > 1e-6 * length(u) * length(v))) return false;
        const double ds = cross(gap, v) / turn, dt = cross(gap, u) / turn;
        s += ds;
        t += dt;
        if (!(s > -0.5 && s < 1.5 && t > -0.5 && t < 1.5)) return false;
        if (std::abs(ds) < 1e-14 && std::abs(dt) < 1e-14) break;
    }
    if (s < 0 || s > 1 || t < 0 || t > 1) return false;
    const double size = control_length(p) + control_length(q);
    return distance(point_at(p, s), point_at(q, t)) < 1e-11 * size + 1e-12;
}

class Tracer {
public:
    Tracer(std::span<const Contour> contours, const Arrangement& arrangement, const UniteOptions& options)
        : contours_(contours), arrangement_(arrangement), options_(options) {
        collect();
        link();
    }

    std::vector<Contour> contours() {
        std::vector<Contour> result;
        std::vector<bool> done(bounds_.size(), false);
        for (std::uint32_t first = 0; first < bounds_.size(); ++first) {
            if (done[first]) continue;
            std::vector<std::uint32_t> loop;
            for (std::uint32_t at = first; !done[at]; at = next_[at]) {
                done[at] = true;
                loop.push_back(at);
            }
            curves_ = options_.keep_curves;
            Contour contour = written(runs_of(loop));
            if (curves_ && (area(contour) > 0) != (area(polygon_of(loop)) > 0)) {
                curves_ = false; // so small that its curves turn it inside out
                contour = written(runs_of(loop));
            }
            const auto& segments = contour.segments;
            const bool flat = segments.size() == 2 && segments[0].degree + segments[1].degree == 2;
            if (!segments.empty() && !flat) result.push_back(std::move(contour));
        }
        return result;
    }

private:
    Vec2 place(std::uint32_t vertex) const { return arrangement_.vertices()[vertex]; }
    const Segment& source(const Bound& bound) const { return contours_[bound.contour].segments[bound.segment]; }

    Polygon polygon_of(const std::vector<std::uint32_t>& loop) const {
        Polygon polygon;
        for (const std::uint32_t bound : loop)
            polygon.push_back(place(bounds_[bound].from));
        return polygon;
    }

    void collect() {
        const std::vector<int> left = arrangement_.windings_left(options_.background);
        for (std::size_t i = 0; i < left.size(); ++i) {
            const Arrangement::Edge& edge = arrangement_.edges()[i];
            const bool on_left = filled(left[i], options_.fill);
            if (on_left == filled(left[i] - edge.count, options_.fill)) continue;
            if (on_left)
                bounds_.push_back({edge.from, edge.to, edge.contour, edge.segment, edge.start, edge.end});
            else
                bounds_.push_back({edge.to, edge.from, edge.contour, edge.segment, edge.end, edge.start});
        }
    }

    /// Each edge → the one after it. Where several meet at a vertex, material holds together across it.
    void link() {
        struct Spoke {
            double angle;
            std::uint32_t bound;
            bool leaves;
        };
        std::vector<std::vector<Spoke>> spokes(arrangement_.vertices().size());
        auto angle = [&](std::uint32_t from, std::uint32_t to) {
            const Vec2 way = place(to) - place(from);
            return std::atan2(way.y, way.x);
        };
        for (std::uint32_t i = 0; i < bounds_.size(); ++i) {
            spokes[bounds_[i].from].push_back({angle(bounds_[i].from, bounds_[i].to), i, true});
            spokes[bounds_[i].to].push_back({angle(bounds_[i].to, bounds_[i].from), i, false});
        }
        next_.assign(bounds_.size(), 0);
        cut_after_.assign(bounds_.size(), false);
        for (auto& around : spokes) {
            std::sort(around.begin(), around.end(), [](const Spoke& a, const Spoke& b) { return a.angle < b.angle; });
            for (std::size_t i = 0; i < around.size(); ++i) {
                if (around[i].leaves) continue;
                // Counter-clockwise from an edge that arrives lies the void, up to the next that leaves.
                const Spoke& next = around[(i + 1) % around.size()];
                next_[around[i].bound] = next.bound;
                double opening = next.angle - around[i].angle;
                if (opening <= 0) opening += 2 * std::numbers::pi;
                cut_after_[around[i].bound] = around.size() > 2 && opening < std::numbers::pi - 1e-3;
            }
        }
    }

    std::vector<Run> runs_of(const std::vector<std::uint32_t>& loop) const {
        std::vector<Run> runs;
        auto continues = [&](const Run& run, const Bound& bound) {
            const Bound& b = run.bound;
            return run.meets_next && b.contour == bound.contour && b.segment == bound.segment && b.end == bound.start &&
                   (b.end > b.start) == (bound.end > bound.start);
        };
        for (const std::uint32_t index : loop) {
            const Bound& bound = bounds_[index];
            const double extent = distance(place(bound.from), place(bound.to));
            const bool as_lines = !curves_ && source(bound).degree > 1;
            if (!as_lines && !runs.empty() && continues(runs.back(), bound)) {
                runs.back().bound.end = bound.end;
                runs.back().bound.to = bound.to;
                runs.back().length += extent;
            } else {
                runs.push_back({bound, extent, {}, {}, true});
            }
            runs.back().meets_next = !cut_after_[index];
        }
        if (curves_ && runs.size() > 1 && continues(runs.back(), runs.front().bound)) {
            runs.front().bound.from = runs.back().bound.from;
            runs.front().bound.start = runs.back().bound.start;
            runs.front().length += runs.back().length;
            runs.pop_back();
        }
        return runs;
    }

    bool bare(const Bound& bound) const { return source(bound).degree == 1 || !curves_; }

    /// Draws the end of a run back by `by` mm along its curve.
    Vec2 drawn_back(Run& run, bool at_end, double by) const {
        const Vec2 from = place(run.bound.from), to = place(run.bound.to);
        by = std::min(by, 0.3 * run.length);
        if (bare(run.bound)) {
            const Vec2 way = (to - from) * (1 / std::max(distance(from, to), 1e-300));
            return at_end ? to - way * by : from + way * by;
        }
        Bound& bound = run.bound;
        double& t = at_end ? bound.end : bound.start;
        t += (at_end ? -1 : 1) * (bound.end - bound.start) * by / run.length;
        return point_at(source(bound), t);
    }

    /// Where two runs meet: at a crossing of curves, their true intersection.
    Vec2 joint_of(Run& before, Run& after) const {
        const std::uint32_t vertex = before.bound.to;
        const Vec2 rough = place(vertex);
        if (arrangement_.is_corner(vertex) || (bare(before.bound) && bare(after.bound) && !curves_)) return rough;
        Bound &p = before.bound, &q = after.bound;
        double s = p.end, t = q.start;
        if (!meet(source(p), s, source(q), t)) return rough;
        const Vec2 at = point_at(source(p), s);
        const bool keeps_order =
            (p.end > p.start) == (s > p.start) && s != p.start && (q.end > q.start) == (q.end > t) && t != q.end;
        if (!keeps_order || distance(at, rough) > 8 * options_.tolerance + 4 * options_.resolution) return rough;
        p.end = s;
        q.start = t;
        return at;
    }

    Contour written(std::vector<Run> runs) const {
        const std::size_t count = runs.size();
        if (count == 1 && runs[0].meets_next) {
            const Bound& bound = runs[0].bound;
            if (bare(bound)) return {};
            return {{with_ends(part_of(source(bound), bound.start, bound.end), place(bound.from), place(bound.to))}};
        }
        for (std::size_t i = 0; i < count; ++i) {
            Run &run = runs[i], &next = runs[(i + 1) % count];
            if (run.meets_next) {
                run.last = next.first = joint_of(run, next);
            } else {
                const double by = std::min({options_.bridge, 0.3 * run.length, 0.3 * next.length});
                run.last = drawn_back(run, true, by);
                next.first = drawn_back(next, false, by);
            }
        }
        Contour contour;
        auto append = [&](const Segment& segment) { contour.segments.push_back(segment); };
        for (std::size_t i = 0; i < count; ++i) {
            const Run &run = runs[i], &next = runs[(i + 1) % count];
            if (bare(run.bound) || run.bound.start == run.bound.end) {
                append(Segment::line(run.first, run.last));
            } else {
                Segment part = part_of(source(run.bound), run.bound.start, run.bound.end);
                if (!(part.start() == run.first) || !(part.end() == run.last))
                    part = with_ends(part, run.first, run.last);
                append(part);
            }
            if (!(run.last == next.first)) append(Segment::line(run.last, next.first));
        }
        return tidied(std::move(contour));
    }

    /// Without edges shorter than the resolution, lines that go straight on joined.
    Contour tidied(Contour contour) const {
        std::vector<Segment> kept;
        for (const Segment& segment : contour.segments)
            if (control_length(segment) >= options_.resolution / 2) kept.push_back(segment);
        for (std::size_t i = 0; i < kept.size(); ++i) {
            const Vec2 next = kept[(i + 1) % kept.size()].start();
            if (!(kept[i].end() == next)) kept[i] = with_ends(kept[i], kept[i].start(), next);
        }
        return {straightened(kept, options_.resolution / 20)};
    }

    /// No dropped corner is farther than `off` from the line that replaces it.
    static std::vector<Segment> straightened(const std::vector<Segment>& in, double off) {
        std::vector<Segment> out;
        std::vector<Vec2> dropped;
        auto joins = [&](const Segment& before, const Segment& after) {
            if (before.degree != 1 || after.degree != 1 || dropped.size() > 64) return false;
            const Vec2 a = before.start(), b = after.start(), c = after.end();
            auto near = [&](Vec2 p) { return distance(nearest_on(a, c, p), p) <= off; };
            return dot(b - a, c - b) > 0 && near(b) && std::all_of(dropped.begin(), dropped.end(), near);
        };
        for (const Segment& segment : in) {
            if (!out.empty() && joins(out.back(), segment)) {
                dropped.push_back(segment.start());
                out.back() = Segment::line(out.back().start(), segment.end());
            } else {
                dropped.clear();
                out.push_back(segment);
            }
        }
        if (out.size() > 3 && joins(out.back(), out.front())) {
            out.front() = Segment::line(out.back().start(), out.front().end());
            out.pop_back();
        }
        return out;
    }

    std::span<const Contour> contours_;
    const Arrangement& arrangement_;
    const UniteOptions& options_;
    std::vector<Bound> bounds_;
    std::vector<std::uint32_t> next_;
    std::vector<bool> cut_after_;
    bool curves_ = true; ///< of the contour that is being written
};

} // namespace

std::optional<std::vector<Contour>> unite(std::span<const Contour> contours, const UniteOptions& options) {
    const auto arrangement = Arrangement::of(contours, options.resolution, options.tolerance);
    if (!arrangement) return std::nullopt;
    return Tracer(contours, *arrangement, options).contours();
}

} // namespace touchmark::geometry
