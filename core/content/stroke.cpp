// SPDX-License-Identifier: MIT
#include "core/content/stroke.h"

#include "core/content/arcs.h"
#include "core/geometry/outline.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <ranges>

namespace touchmark::content {
namespace {

using geometry::Affine;
using geometry::Contour;
using geometry::Segment;

constexpr int deepest_split = 9;
constexpr double smooth = 1e-5; // radians: below, two pieces go on as one

Vec2 left_of(Vec2 v) {
    return {-v.y, v.x};
}

Vec2 second_derivative(const Segment& s, double t) {
    const auto& p = s.points;
    if (s.degree == 1) return {};
    if (s.degree == 2) return (p[0] - p[1] * 2 + p[2]) * 2;
    return ((p[0] - p[1] * 2 + p[2]) * (1 - t) + (p[1] - p[2] * 2 + p[3]) * t) * 6;
}

/// Of unit length; where a control point lies on an end the direction comes from the next one.
Vec2 direction(const Segment& s, double t) {
    Vec2 d = derivative_at(s, t);
    if (length(d) < 1e-12 * (1 + length(s.end() - s.start()))) {
        const auto degree = static_cast<std::size_t>(s.degree);
        for (std::size_t i = 1; i <= degree; ++i) {
            d = t < 0.5 ? s.points[i] - s.points[0] : s.points[degree] - s.points[degree - i];
            if (length(d) > 0) break;
        }
    }
    const double size = length(d);
    return size > 0 ? d * (1 / size) : Vec2{1, 0};
}

/// A stretch of the line with what lies beside it at half the width.
struct Piece {
    Segment left, right;
    Vec2 start_direction, end_direction;
    Vec2 start, end;
    bool folds = false; ///< tighter than the pen is wide: one side runs backwards
};

/// How fast the side at `distance` to the left runs, in multiples of the line's own speed.
double pace(const Segment& s, double t, double distance) {
    const Vec2 d = derivative_at(s, t);
    const double speed = length(d);
    if (speed < 1e-12) return 1;
    return 1 - distance * cross(d, second_derivative(s, t)) / (speed * speed * speed);
}

/// The Hermite cubic through position and derivative of the offset curve at both ends.
Segment side(const Segment& s, double distance) {
    const Vec2 a = s.start() + left_of(direction(s, 0)) * distance, b = s.end() + left_of(direction(s, 1)) * distance;
    if (s.degree == 1) return Segment::line(a, b);
    const Vec2 da = derivative_at(s, 0) * (pace(s, 0, distance) / 3),
               db = derivative_at(s, 1) * (pace(s, 1, distance) / 3);
    return Segment::cubic(a, a + da, b - db, b);
}

bool close_enough(const Segment& s, const Segment& beside, double distance, double tolerance) {
    for (const double t : {0.25, 0.5, 0.75}) {
        const Vec2 exact = point_at(s, t) + left_of(direction(s, t)) * distance;
        const Vec2 off = point_at(beside, t) - exact;
        if (length(off) > tolerance) return false;
    }
    return true;
}

void cut_into_pieces(const Segment& s, double half, double tolerance, int depth, std::vector<Piece>& pieces) {
    const Segment left = side(s, half), right = side(s, -half);
    if (s.degree > 1 && depth < deepest_split) {
        const bool turned = dot(direction(s, 0), direction(s, 1)) < 0.7;
        const bool good = !turned && close_enough(s, left, half, tolerance) && close_enough(s, right, -half, tolerance);
        const bool mixed = pace(s, 0, half) * pace(s, 1, half) < 0 || pace(s, 0, -half) * pace(s, 1, -half) < 0;
        if (!good || (mixed && depth < deepest_split / 2)) {
            for (const Segment& part : split(s, 0.5))
                cut_into_pieces(part, half, tolerance, depth + 1, pieces);
            return;
        }
    }
    bool folds = false;
    if (s.degree > 1)
        for (const double t : {0.0, 0.5, 1.0})
            folds = folds || pace(s, t, half) <= 0 || pace(s, t, -half) <= 0;
    pieces.push_back({left, right, direction(s, 0), direction(s, 1), s.start(), s.end(), folds});
}

void push(Contour& contour, const Segment& segment) {
    if (segment.degree == 1 && segment.start() == segment.end()) return;
    contour.segments.push_back(segment);
}

void line_to(Contour& contour, Vec2 from, Vec2 to) {
    if (!(from == to)) contour.segments.push_back(Segment::line(from, to));
}

/// Each piece starts exactly where the one before ends.
Segment started_at(Segment segment, Vec2 start) {
    segment.points[0] = start;
    return segment;
}

/// The band beside pieces that follow each other smoothly.
Contour band(std::span<const Piece> chain) {
    Contour contour;
    Vec2 at = chain.front().right.start();
    for (const Piece& piece : chain) {
        push(contour, started_at(piece.right, at));
        at = piece.right.end();
    }
    std::vector<Segment> back;
    Vec2 from = chain.front().left.start();
    for (const Piece& piece : chain) {
        back.push_back(started_at(piece.left, from));
        from = piece.left.end();
    }
    line_to(contour, at, from);
    for (const Segment& segment : back | std::views::reverse)
        push(contour, geometry::reversed(segment));
    line_to(contour, chain.front().left.start(), chain.front().right.start());
    return contour;
}

/// The two edges of a closed band without a corner.
std::array<Contour, 2> ring(std::span<const Piece> chain) {
    std::array<Contour, 2> edges;
    for (const bool left : {true, false}) {
        const auto of = [&](const Piece& piece) { return left ? piece.left : piece.right; };
        Contour& contour = edges[left ? 0 : 1];
        Vec2 at = of(chain.back()).end();
        for (const Piece& piece : chain) {
            push(contour, started_at(of(piece), at));
            at = of(piece).end();
        }
    }
    edges[0] = geometry::reversed(edges[0]);
    return edges;
}

Contour polygon(std::initializer_list<Vec2> points) {
    return geometry::contour_of(std::vector<Vec2>(points));
}

/// The slice of a disc about `centre` from one radius to another, the short way round.
Contour slice(Vec2 centre, Vec2 from, double sweep, double half) {
    Contour contour;
    const Affine map = Affine::translation(centre) * Affine::scale(half);
    const double start = std::atan2(from.y, from.x);
    contour.segments = arc(start, sweep, map);
    line_to(contour, contour.segments.back().end(), centre);
    contour.segments.push_back(Segment::line(centre, contour.segments.front().start()));
    return contour;
}

Contour counter_clockwise(Contour contour) {
    return area(contour) < 0 ? geometry::reversed(contour) : contour;
}

void add_join(Vec2 at, Vec2 before, Vec2 after, double half, const StrokeStyle& style, std::vector<Contour>& out) {
    const double turn = std::atan2(cross(before, after), dot(before, after));
    if (std::abs(turn) < smooth) return;
    const double outward = turn > 0 ? -1 : 1; // the gap opens on the outside of the turn
    const Vec2 from = left_of(before) * outward, to = left_of(after) * outward;
    const Vec2 a = at + from * half, b = at + to * half;
    if (style.join == LineJoin::round) {
        out.push_back(counter_clockwise(slice(at, from, turn, half)));
        return;
    }
    const double reach = 1 / std::max(std::cos(turn / 2), 1e-12); // miter length over width (SVG 2, 13.5.5)
    if (style.join == LineJoin::miter && reach <= style.miter_limit) {
        const Vec2 middle = from + to;
        out.push_back(counter_clockwise(polygon({at, a, at + middle * (half * reach / length(middle)), b})));
    } else {
        out.push_back(counter_clockwise(polygon({at, a, b})));
    }
}

/// `out_of` points away from the line's end.
void add_cap(Vec2 at, Vec2 out_of, double half, LineCap cap, std::vector<Contour>& out) {
    const Vec2 aside = left_of(out_of) * half, ahead = out_of * half;
    if (cap == LineCap::round)
        out.push_back(counter_clockwise(slice(at, left_of(out_of) * -1.0, std::numbers::pi, half)));
    else if (cap == LineCap::square)
        out.push_back(counter_clockwise(polygon({at - aside, at - aside + ahead, at + aside + ahead, at + aside})));
}

void add_dot(Vec2 at, double half, LineCap cap, std::vector<Contour>& out) {
    if (cap == LineCap::round)
        out.push_back({arc(0, 2 * std::numbers::pi, Affine::translation(at) * Affine::scale(half))});
    else if (cap == LineCap::square)
        out.push_back(
            polygon({at + Vec2{-half, -half}, at + Vec2{half, -half}, at + Vec2{half, half}, at + Vec2{-half, half}}));
    if (!out.empty() && cap == LineCap::round)
        out.back().segments.back().points[3] = out.back().segments.front().start();
}

bool goes_on(const Piece& a, const Piece& b) {
    const double turn = std::atan2(cross(a.end_direction, b.start_direction), dot(a.end_direction, b.start_direction));
    return !a.folds && !b.folds && std::abs(turn) < smooth;
}

Status add_bands(const std::vector<Piece>& pieces, bool closed, std::vector<Contour>& out) {
    const std::size_t count = pieces.size();
    const auto next = [&](std::size_t i) -> const Piece& { return pieces[(i + 1) % count]; };
    bool all = closed;
    for (std::size_t i = 0; i < count && all; ++i)
        all = goes_on(pieces[i], next(i));
    if (all && count > 1) {
        std::ranges::move(ring(pieces), std::back_inserter(out));
        return {};
    }
    for (std::size_t first = 0; first < count;) {
        std::size_t last = first;
        while (last + 1 < count && goes_on(pieces[last], pieces[last + 1]))
            ++last;
        Contour contour = band({&pieces[first], last - first + 1});
        if (pieces[first].folds) {
            auto clean = geometry::outline_from({std::move(contour)});
            if (!clean) return std::unexpected(clean.error());
            for (geometry::Region& region : clean->regions) {
                out.push_back(std::move(region.outer));
                std::ranges::move(region.holes, std::back_inserter(out));
            }
        } else {
            out.push_back(std::move(contour));
        }
        first = last + 1;
    }
    return {};
}

} // namespace

Result<std::vector<Contour>> stroked(Vec2 start, std::span<const Segment> segments, bool closed,
                                     const StrokeStyle& style) {
    std::vector<Contour> out;
    const double half = style.width / 2;
    if (!(half > 0)) return out;
    std::vector<Piece> pieces;
    for (const Segment& segment : segments) {
        const auto& p = segment.points;
        const bool nothing = std::all_of(p.begin() + 1, p.begin() + segment.degree + 1,
                                         [&](Vec2 point) { return length(point - p[0]) <= style.tolerance * 1e-3; });
        if (!nothing) cut_into_pieces(segment, half, style.tolerance, 0, pieces);
    }
    if (pieces.empty()) {
        add_dot(start, half, style.cap, out);
        return out;
    }
    if (const Status good = add_bands(pieces, closed, out); !good) return std::unexpected(good.error());
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        if (i + 1 == pieces.size() && !closed) break;
        const Piece &a = pieces[i], &b = pieces[(i + 1) % pieces.size()];
        add_join(b.start, a.end_direction, b.start_direction, half, style, out);
    }
    if (!closed) {
        add_cap(pieces.front().start, pieces.front().start_direction * -1.0, half, style.cap, out);
        add_cap(pieces.back().end, pieces.back().end_direction, half, style.cap, out);
    }
    return out;
}

} // namespace touchmark::content
