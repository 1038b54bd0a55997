// SPDX-License-Identifier: MIT
#include "core/imprint/freeform_curve.h"

#include "core/imprint/interpolation.h"
#include "core/imprint/round_curve.h"

#include <algorithm>
#include <cmath>

namespace touchmark::imprint {
namespace {

using geometry::Segment;

using Quintic = Interpolation<5>;
constexpr std::size_t count = Quintic::count;
/// Where such an interpolation is worst.
constexpr std::array between{0.04, 0.21, 0.5, 0.79, 0.96};

template <class Point> std::array<Point, count> poles_through(const std::array<Point, count>& values) {
    const auto& matrix = Quintic::pole_matrix();
    std::array<Point, count> poles;
    for (std::size_t i = 1; i + 1 < count; ++i)
        for (std::size_t j = 0; j < count; ++j)
            poles[i] = poles[i] + values[j] * matrix[i][j];
    poles.front() = values.front();
    poles.back() = values.back();
    return poles;
}

template <class Point> Point value(const std::array<Point, count>& poles, double t) {
    const auto b = Quintic::bernstein(t);
    Point sum;
    for (std::size_t i = 0; i < count; ++i)
        sum = sum + poles[i] * b[i];
    return sum;
}

} // namespace

CurveCarrier::CurveCarrier(const Site& site, double rim_height, double foot_height)
    : site_(site), surface_(site.chart->face(), site.chart->face().location.Transformation()), rim_(rim_height),
      foot_(foot_height) {}

std::vector<CarriedCurve> CurveCarrier::carried(const geometry::Contour& contour) const {
    std::vector<Segment> segments;
    for (const Segment& segment : contour.segments)
        split_at_breaks(segment, segments);
    std::vector<CarriedCurve> out;
    for (const Segment& segment : segments)
        carry(segment, 0, out);
    return out;
}

void CurveCarrier::split_at_breaks(const Segment& segment, std::vector<Segment>& out) const {
    const auto& face = site_.chart->face();
    if (face.breaks_u.empty() && face.breaks_v.empty()) {
        out.push_back(segment);
        return;
    }
    constexpr std::size_t probes = 4;
    std::array<Vec2, probes + 1> at;
    for (std::size_t i = 0; i <= probes; ++i)
        at[i] = parameters(geometry::point_at(segment, static_cast<double>(i) / probes));
    std::vector<double> cuts;
    const auto look_for = [&](const std::vector<double>& breaks, auto&& coordinate) {
        for (std::size_t i = 0; i < probes; ++i) {
            const double a = coordinate(at[i]), b = coordinate(at[i + 1]);
            const auto first = std::ranges::lower_bound(breaks, std::min(a, b));
            for (auto cut = first; cut != breaks.end() && *cut <= std::max(a, b); ++cut) {
                double low = static_cast<double>(i) / probes, high = static_cast<double>(i + 1) / probes;
                for (int k = 0; k < 44; ++k) {
                    const double middle = (low + high) / 2;
                    const double there = coordinate(parameters(geometry::point_at(segment, middle)));
                    ((there < *cut) == (a < *cut) ? low : high) = middle;
                }
                cuts.push_back((low + high) / 2);
            }
        }
    };
    look_for(face.breaks_u, [](Vec2 p) { return p.x; });
    look_for(face.breaks_v, [](Vec2 p) { return p.y; });
    std::ranges::sort(cuts);
    Segment rest = segment;
    double done = 0;
    constexpr double least = 1e-3; // of the segment: shorter pieces are edges that nobody wants
    for (const double cut : cuts) {
        if (cut - done < least || 1 - cut < least) continue;
        const auto [left, right] = geometry::split(rest, (cut - done) / (1 - done));
        out.push_back(left);
        rest = right;
        done = cut;
    }
    out.push_back(rest);
}

bool CurveCarrier::fit(const Segment& segment, CarriedCurve& curve) const {
    std::array<Vec2, count> uv;
    for (std::size_t i = 0; i < count; ++i)
        uv[i] = parameters(geometry::point_at(segment, Quintic::node(i)));
    curve.uv = poles_through(uv);
    std::array<Vec3, count> rim, foot;
    for (std::size_t i = 0; i < count; ++i) {
        const auto place = surface_.place(i == 0 || i + 1 == count ? uv[i] : value(curve.uv, Quintic::node(i)));
        rim[i] = place.point + place.normal * rim_;
        foot[i] = place.point + place.normal * foot_;
    }
    curve.rim = poles_through(rim);
    curve.foot = poles_through(foot);
    curve.rim_off = curve.foot_off = 0;
    double off_outline = 0;
    for (const double t : between) {
        const Vec2 at = value(curve.uv, t), wanted = parameters(geometry::point_at(segment, t));
        const auto place = surface_.place(at);
        curve.rim_off = std::max(curve.rim_off, distance(value(curve.rim, t), place.point + place.normal * rim_));
        curve.foot_off = std::max(curve.foot_off, distance(value(curve.foot, t), place.point + place.normal * foot_));
        const Vec2 d = at - wanted, scale = site_.chart->face().scale;
        off_outline = std::max(off_outline, std::hypot(d.x * scale.x, d.y * scale.y) * site_.scale);
    }
    return std::max({curve.rim_off, curve.foot_off, off_outline}) <= fitted_within;
}

void CurveCarrier::carry(const Segment& segment, int depth, std::vector<CarriedCurve>& out) const {
    constexpr int deepest = 7;
    CarriedCurve curve;
    if (fit(segment, curve) || depth == deepest) {
        out.push_back(curve);
        return;
    }
    for (const Segment& half : geometry::split(segment, 0.5))
        carry(half, depth + 1, out);
}

} // namespace touchmark::imprint
