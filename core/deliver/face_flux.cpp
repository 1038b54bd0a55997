// SPDX-License-Identifier: MIT
#include "core/deliver/face_flux.h"

#include "core/base/quadrature.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <span>

namespace touchmark::deliver {
namespace {

template <class Value> double integral(std::span<const GaussNode> rule, double from, double until, Value&& value) {
    double sum = 0;
    const double middle = (from + until) / 2, half = (until - from) / 2;
    for (const GaussNode& node : rule)
        sum += node.weight * value(middle + half * node.at);
    return sum * half;
}

/// Along the edge forward.
template <class Form> double along(std::span<const GaussNode> rule, const FileEdge& edge, Form&& form) {
    double sum = 0;
    for (std::size_t i = 0; i + 1 < edge.breaks.size(); ++i)
        sum += integral(rule, edge.breaks[i], edge.breaks[i + 1], [&](double t) { return form(edge.at(t)); });
    return sum;
}

/// `straight`: the rule that is enough for straight edges.
template <class Form> double around(std::span<const GaussNode> straight, const Loop& loop, Form&& form) {
    double sum = 0;
    for (const LoopEdge& item : loop) {
        const bool line = item.edge->curve.kind == FileCurve::Kind::line;
        sum += (item.forward ? 1 : -1) * along(line ? straight : std::span<const GaussNode>(gauss_8), *item.edge, form);
    }
    return sum;
}

struct Corner {
    double s = 0, t = 0;
};

/// The loop's corners in the surface's parameters, in the loop's order; empty when one is not at an end of s.
std::vector<Corner> corners_of(const FileSurface& surface, const Loop& loop, double tolerance) {
    const double low = surface.u.low(), high = surface.u.high();
    std::vector<Corner> out;
    for (const LoopEdge& item : loop) {
        const Vec3 corner = item.forward ? item.edge->start : item.edge->end;
        bool found = false;
        const auto take = [&](double s, double t) {
            Vec3 at, ds, dt;
            surface.evaluate(s, t, at, ds, dt);
            if (found || !(distance(at, corner) <= tolerance)) return;
            out.push_back({s, t});
            found = true;
        };
        for (const double s : {low, high})
            if (surface.kind == FileSurface::Kind::extrusion) {
                take(s, dot(corner - surface.curve.at(s).at, surface.frame.z));
            } else {
                take(s, surface.v.low());
                take(s, surface.v.high());
            }
        if (!found) return {};
    }
    return out;
}

/// Whether the edge follows the straight way between two corners in the parameters, at the same pace or the reverse.
bool follows_side(const FileSurface& surface, const LoopEdge& item, Corner from, Corner until, double tolerance) {
    for (const double f : {0.25, 0.5, 0.75}) {
        Vec3 at, ds, dt;
        surface.evaluate(from.s + (until.s - from.s) * f, from.t + (until.t - from.t) * f, at, ds, dt);
        if (!(distance(item.edge->at(item.forward ? f : 1 - f).at, at) <= tolerance)) return false;
    }
    return true;
}

} // namespace

LoopFigures loop_figures(const FileSurface& surface, const Loop& loop, const Vec3& about) {
    const Frame& f = surface.frame;
    const Vec3 to_origin = f.origin - about;
    if (surface.kind == FileSurface::Kind::plane) {
        const Vec3 base = loop.empty() ? f.origin : loop.front().edge->start;
        // Seen from outside the loop runs counter-clockwise, whichever way the normal points.
        const double size =
            around(gauss_2, loop, [&](const Jet& jet) { return dot(f.z, cross(jet.at - base, jet.first)) / 2; });
        return {dot(to_origin, f.z) / 3 * size, size};
    }
    LoopFigures out;
    // With the parameters u (angle) and v (along the axis) the flux density is r times what does not depend on v: its
    // integral over v is in closed form, and what is left is one over u.
    out.flux = -around(gauss_8, loop, [&](const Jet& jet) {
        const Vec3 p = jet.at - f.origin;
        const double v = dot(p, f.z), r = surface.radius + surface.slope * v;
        const double x = dot(p, f.x), y = dot(p, f.y), away = std::copysign(std::hypot(x, y), r);
        const Vec3 radial = f.x * (x / away) + f.y * (y / away), round = f.y * (x / away) - f.x * (y / away);
        const double angle = dot(jet.first, round) / r;
        const double density = (surface.radius + dot(to_origin, radial - f.z * surface.slope)) / 3;
        const double inner = surface.slope == 0 ? surface.radius * v : r * r / (2 * surface.slope);
        return inner * density * angle;
    });
    out.size = -around(gauss_8, loop, [&](const Jet& jet) {
        const Vec3 p = jet.at - f.origin;
        const double v = dot(p, f.z), away = dot(p, f.x) * dot(p, f.x) + dot(p, f.y) * dot(p, f.y);
        return v * (dot(p, f.x) * dot(jet.first, f.y) - dot(p, f.y) * dot(jet.first, f.x)) / away;
    });
    return out;
}

std::optional<double> patch_flux(const FileSurface& surface, bool same_sense, const Loop& loop, const Vec3& about,
                                 double tolerance) {
    if (loop.size() != 4) return std::nullopt;
    const std::vector<Corner> corners = corners_of(surface, loop, tolerance);
    if (corners.size() != 4) return std::nullopt;
    double twice = 0; // area in the parameters
    for (std::size_t i = 0; i < 4; ++i) {
        const Corner &from = corners[i], &until = corners[(i + 1) % 4];
        if (!follows_side(surface, loop[i], from, until, tolerance)) return std::nullopt;
        twice += from.s * until.t - until.s * from.t;
    }
    const auto [low_s, high_s] = std::ranges::minmax(corners, {}, &Corner::s);
    const auto [low_t, high_t] = std::ranges::minmax(corners, {}, &Corner::t);
    const double rectangle = (high_s.s - low_s.s) * (high_t.t - low_t.t);
    // The loop runs counter-clockwise in the parameters exactly where the normal points outside.
    const double sense = same_sense ? 1 : -1;
    if (!(rectangle > 0) || !(std::abs(twice / 2 * sense - rectangle) <= 1e-6 * rectangle)) return std::nullopt;
    std::vector<double> s_breaks{low_s.s}, t_breaks{low_t.t};
    for (const double knot : surface.u.knots)
        if (knot > s_breaks.back() && knot <= high_s.s) s_breaks.push_back(knot);
    if (surface.kind == FileSurface::Kind::spline) {
        for (const double knot : surface.v.knots)
            if (knot > t_breaks.back() && knot <= high_t.t) t_breaks.push_back(knot);
    } else {
        t_breaks.push_back(high_t.t);
    }
    const bool ruled = surface.kind == FileSurface::Kind::extrusion || surface.v.degree == 1;
    const std::span<const GaussNode> t_rule = ruled ? std::span<const GaussNode>(gauss_2) : gauss_8;
    double sum = 0;
    for (std::size_t i = 0; i + 1 < s_breaks.size(); ++i)
        for (std::size_t j = 0; j + 1 < t_breaks.size(); ++j)
            sum += integral(gauss_8, s_breaks[i], s_breaks[i + 1], [&](double s) {
                return integral(t_rule, t_breaks[j], t_breaks[j + 1], [&](double t) {
                    Vec3 at, ds, dt;
                    surface.evaluate(s, t, at, ds, dt);
                    return dot(at - about, cross(ds, dt)) / 3;
                });
            });
    return sum * sense;
}

} // namespace touchmark::deliver
