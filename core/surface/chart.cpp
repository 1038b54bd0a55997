// SPDX-License-Identifier: MIT
#include "core/surface/chart.h"

#include "core/geometry/outline.h"
#include "core/surface/segment_tree.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace touchmark::surface {
namespace {

using geometry::Polygon;

constexpr double fine = 1e-3; // mm
constexpr double turn = 2 * std::numbers::pi;

Vec2 times(Vec2 a, Vec2 b) {
    return {a.x * b.x, a.y * b.y};
}

bool crosses_itself(const Polygon& polygon) {
    const std::size_t count = polygon.size();
    for (std::size_t i = 0; i < count; ++i)
        for (std::size_t j = i + 2; j < count; ++j)
            if ((j + 1) % count != i && meeting(polygon[i], polygon[i + 1], polygon[j], polygon[(j + 1) % count]))
                return true;
    return geometry::area(polygon) == 0;
}

bool inside_all(const Polygon& around, const Polygon& points) {
    return std::ranges::all_of(points, [&](Vec2 p) { return geometry::winding(around, p) != 0; });
}

} // namespace

void Chart::end_at(std::vector<double> reach) {
    // Between two rays places are only as good as the shorter one.
    const std::size_t count = reach.size();
    for (std::size_t i = 0; i < count; ++i)
        reach_.push_back(std::min({reach[(i + count - 1) % count], reach[i], reach[(i + 1) % count]}));
    // Ways that meet again at the far side of the face would show a place twice.
    constexpr int most = 24;
    constexpr double shorter = 0.88;
    for (int i = 0; i < most && crosses_itself(rim_ = rim()); ++i)
        for (double& r : reach_)
            r *= shorter;
}

/// Finer than the rays: between them it is straight in the mark's mm, not in the parameters.
Polygon Chart::rim() const {
    constexpr int parts = 4;
    Polygon points;
    for (std::size_t i = 0; i < reach_.size(); ++i) {
        const auto end = [&](std::size_t ray) {
            const double angle = turn * static_cast<double>(ray) / static_cast<double>(reach_.size());
            return Vec2{std::cos(angle), std::sin(angle)} * (kept * reach_[ray % reach_.size()]);
        };
        const Vec2 a = end(i), b = end(i + 1);
        for (int k = 0; k < parts; ++k)
            points.push_back(times(away(a + (b - a) * (static_cast<double>(k) / parts)), face_->scale));
    }
    return points;
}

bool Chart::holds(Vec2 at) const {
    return reaches(at - anchorage_.at, kept);
}

bool Chart::reaches(Vec2 q, double part) const {
    const double count = static_cast<double>(reach_.size());
    double angle = std::atan2(q.y, q.x) / turn;
    if (angle < 0) angle += 1;
    const auto ray = static_cast<std::size_t>(angle * count) % reach_.size();
    const auto end = [&](std::size_t i) {
        const double to = turn * static_cast<double>(i) / count;
        return Vec2{std::cos(to), std::sin(to)} * (part * reach_[i % reach_.size()]);
    };
    const Vec2 a = end(ray), b = end(ray + 1);
    return cross(b - a, q - a) >= 0;
}

std::optional<Vec2> Chart::at(Vec2 uv, Vec2 near) const {
    const auto q = back(uv - anchorage_.uv, near - anchorage_.at);
    return q ? std::optional(anchorage_.at + *q) : std::nullopt;
}

std::optional<Vec2> Chart::back(Vec2 wanted, Vec2 q) const {
    // Newton with differences: the map is smooth, and some 1e-8 mm are good enough for a boundary.
    constexpr double step = 1e-3, good = 1e-8;
    for (int i = 0; i < 25; ++i) {
        const Vec2 off = times(wanted - away(q), face_->scale);
        const Vec2 x = times(away(q + Vec2{step, 0}) - away(q - Vec2{step, 0}), face_->scale) * (0.5 / step);
        const Vec2 y = times(away(q + Vec2{0, step}) - away(q - Vec2{0, step}), face_->scale) * (0.5 / step);
        const double det = cross(x, y);
        if (det == 0 || !std::isfinite(det)) return std::nullopt;
        Vec2 move{cross(off, y) / det, cross(x, off) / det};
        const double size = length(move), most = 0.25 * length(q) + 1;
        if (size < good) return q + move;
        if (size > most) move = move * (most / size);
        q = q + move;
    }
    return std::nullopt;
}

std::optional<Vec2> Chart::at(Vec2 uv) const {
    // From the anchor outwards, so that a far place is not taken for another.
    Vec2 found = anchorage_.at;
    constexpr int steps = 6;
    for (int i = 1; i <= steps; ++i) {
        const auto next = at(anchorage_.uv + (uv - anchorage_.uv) * (static_cast<double>(i) / steps), found);
        if (!next) return std::nullopt;
        found = *next;
    }
    return found;
}

/// The straight line of the parameters between two places, without its end.
void Chart::lay(Vec2 uv_a, Vec2 a, Vec2 uv_b, Vec2 b, int depth, Polygon& out) const {
    constexpr int deepest = 8;
    const Vec2 uv = (uv_a + uv_b) * 0.5;
    const auto middle = at(uv, (a + b) * 0.5);
    const bool bent = middle && distance(*middle, (a + b) * 0.5) > fine / 2;
    if (!bent || depth == deepest) {
        out.push_back(a);
        return;
    }
    lay(uv_a, a, uv, *middle, depth + 1, out);
    lay(uv, *middle, uv_b, b, depth + 1, out);
}

/// REQUIRES: a loop of parameters that the chart holds.
std::optional<Polygon> Chart::laid(const Polygon& loop) const {
    std::vector<Vec2> places;
    for (const Vec2 uv : loop) {
        auto place = places.empty() ? at(uv) : at(uv, places.back());
        if (!place) place = at(uv);
        if (!place) return std::nullopt;
        places.push_back(*place);
    }
    Polygon out;
    for (std::size_t i = 0; i < loop.size(); ++i) {
        const std::size_t next = (i + 1) % loop.size();
        // Long sides may bend without their middle showing it.
        constexpr int parts = 3;
        Vec2 from = places[i];
        for (int k = 1; k <= parts; ++k) {
            const auto along = [&](int part) {
                return loop[i] + (loop[next] - loop[i]) * (static_cast<double>(part) / parts);
            };
            const auto to = k == parts ? std::optional(places[next]) : at(along(k), from);
            if (!to) return std::nullopt;
            if (distance(from, *to) < fine)
                out.push_back(from);
            else
                lay(along(k - 1), from, along(k), *to, 0, out);
            from = *to;
        }
    }
    return out;
}

std::optional<std::vector<Polygon>> Chart::laid(const std::vector<Polygon>& loops) const {
    std::vector<Polygon> out;
    const geometry::Outline rim{{{geometry::contour_of(rim_), {}}}};
    Box2 box;
    for (const Vec2 p : rim_)
        box.add(p);
    for (const Polygon& loop : loops) {
        Polygon flat;
        Box2 own;
        for (const Vec2 uv : loop) {
            flat.push_back(times(uv - anchorage_.uv, face_->scale));
            own.add(flat.back());
        }
        if (!own.meets(box)) continue;
        std::vector<Polygon> pieces;
        if (inside_all(rim_, flat))
            pieces.push_back(flat);
        else {
            if (geometry::area(flat) < 0) std::ranges::reverse(flat);
            pieces = geometry::flattened(geometry::intersection({{{geometry::contour_of(flat), {}}}}, rim, fine), fine);
        }
        for (Polygon& piece : pieces) {
            for (Vec2& p : piece)
                p = anchorage_.uv + Vec2{p.x / face_->scale.x, p.y / face_->scale.y};
            auto polygon = laid(piece);
            if (!polygon) return std::nullopt;
            out.push_back(std::move(*polygon));
        }
    }
    return out;
}

} // namespace touchmark::surface
