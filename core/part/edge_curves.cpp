// SPDX-License-Identifier: MIT
#include "core/part/edge_curves.h"

#include "core/part/vectors.h"

#include <Geom2d_TrimmedCurve.hxx>
#include <Geom_TrimmedCurve.hxx>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace touchmark::part {
namespace {

Vec2 vec(const gp_Pnt2d& p) {
    return {p.X(), p.Y()};
}
using part::vec;

double coordinate(const Vec3& p, int axis) {
    return axis == 0 ? p.x : axis == 1 ? p.y : p.z;
}

/// Widens [low, high] by what one coordinate of a Bézier reaches beyond its ends.
void widen(std::array<double, highest_degree + 1> p, int degree, double& low, double& high, int depth = 0) {
    const auto count = static_cast<std::size_t>(degree) + 1;
    const auto [least, most] = std::minmax_element(p.begin(), p.begin() + static_cast<std::ptrdiff_t>(count));
    constexpr int deepest = 40;
    low = std::min({low, p[0], p[count - 1]});
    high = std::max({high, p[0], p[count - 1]});
    // Far from the origin no more than rounding allows, or halving would go on for ever.
    const double hair = 1e-9 + 1e-14 * std::max(std::abs(low), std::abs(high));
    if ((*least > low - hair && *most < high + hair) || depth == deepest) return;
    std::array<double, highest_degree + 1> left{};
    for (std::size_t level = count; level > 0; --level) {
        left[count - level] = p[0];
        for (std::size_t k = 0; k + 1 < level; ++k)
            p[k] = (p[k] + p[k + 1]) / 2;
    }
    // What is left in p runs from the middle to the end.
    widen(left, degree, low, high, depth + 1);
    widen(p, degree, low, high, depth + 1);
}

template <class V, class Curve> Bezier<V> poles_of(const Curve& curve) {
    Bezier<V> out{curve.Degree(), {}};
    for (int k = 0; k <= out.degree; ++k)
        out.poles[static_cast<std::size_t>(k)] = vec(curve.Pole(k + 1));
    return out;
}

/// Null, when it is not a Bézier of a usable degree.
template <class Stored, class Curve> const Stored* bezier_in(const Curve* curve) {
    const auto* stored = exactly<Stored>(curve);
    return stored && !stored->IsRational() && stored->Degree() <= highest_degree ? stored : nullptr;
}

Bezier<Vec3> moved(Bezier<Vec3> curve, const TopLoc_Location& by) {
    if (by.IsIdentity()) return curve;
    for (int k = 0; k <= curve.degree; ++k) {
        Vec3& pole = curve.poles[static_cast<std::size_t>(k)];
        pole = vec(point(pole).Transformed(by.Transformation()));
    }
    return curve;
}

} // namespace

std::optional<Bezier<Vec3>> bezier_of(const Geom_Curve* curve) {
    if (const auto* part = exactly<Geom_TrimmedCurve>(curve)) {
        if (part->FirstParameter() != 0 || part->LastParameter() != 1) return std::nullopt;
        return bezier_of(part->BasisCurve().get());
    }
    const auto* stored = bezier_in<Geom_BezierCurve>(curve);
    return stored ? std::optional(poles_of<Vec3>(*stored)) : std::nullopt;
}

std::optional<Bezier<Vec3>> space_curve(const StoredCurves& edge) {
    if (exactly<Geom_Line>(edge.in_space))
        return Bezier<Vec3>{1, {vec(edge.point(edge.first)), vec(edge.point(edge.last))}};
    const auto bezier = bezier_of(edge.in_space);
    if (!bezier || edge.first != 0 || edge.last != 1) return std::nullopt;
    return moved(*bezier, edge.moved);
}

std::optional<Bezier<Vec2>> parameter_curve(const StoredCurves& edge) {
    const Geom2d_Curve* curve = edge.in_parameters;
    if (const auto* part = exactly<Geom2d_TrimmedCurve>(curve)) curve = part->BasisCurve().get();
    if (const auto* line = exactly<Geom2d_Line>(curve))
        return Bezier<Vec2>{1, {vec(line->Value(edge.first_on)), vec(line->Value(edge.last_on))}};
    const auto* stored = bezier_in<Geom2d_BezierCurve>(curve);
    if (!stored || edge.first_on != 0 || edge.last_on != 1) return std::nullopt;
    return poles_of<Vec2>(*stored);
}

void add_to(Box3& box, const Bezier<Vec3>& curve) {
    box.add(curve.poles[0]);
    box.add(curve.last());
    if (curve.degree == 1) return;
    std::array<double, 3> low{}, high{};
    for (int axis = 0; axis < 3; ++axis) {
        std::array<double, highest_degree + 1> p{};
        for (int k = 0; k <= curve.degree; ++k)
            p[static_cast<std::size_t>(k)] = coordinate(curve.poles[static_cast<std::size_t>(k)], axis);
        low[static_cast<std::size_t>(axis)] = 1e300;
        high[static_cast<std::size_t>(axis)] = -1e300;
        widen(p, curve.degree, low[static_cast<std::size_t>(axis)], high[static_cast<std::size_t>(axis)]);
    }
    box.add({low[0], low[1], low[2]});
    box.add({high[0], high[1], high[2]});
}

void add_to(Box3& box, const StoredCurves& edge, const gp_Circ& circle) {
    const gp_Ax2& axes = circle.Position();
    const Vec3 centre = vec(circle.Location()), x = vec(axes.XDirection()), y = vec(axes.YDirection());
    std::array<double, 3> low{}, high{};
    for (int axis = 0; axis < 3; ++axis) {
        const double a = coordinate(x, axis) * circle.Radius(), b = coordinate(y, axis) * circle.Radius();
        const auto i = static_cast<std::size_t>(axis);
        const auto add = [&](double angle) {
            const double at = coordinate(centre, axis) + a * std::cos(angle) + b * std::sin(angle);
            low[i] = std::min(low[i], at);
            high[i] = std::max(high[i], at);
        };
        low[i] = 1e300, high[i] = -1e300;
        add(edge.first);
        add(edge.last);
        constexpr double half = std::numbers::pi;
        const double extreme = std::atan2(b, a);
        for (double angle = extreme + half * std::ceil((edge.first - extreme) / half); angle < edge.last; angle += half)
            add(angle);
    }
    box.add({low[0], low[1], low[2]});
    box.add({high[0], high[1], high[2]});
}

} // namespace touchmark::part
