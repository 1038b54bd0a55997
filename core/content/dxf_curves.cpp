// SPDX-License-Identifier: MIT
#include "core/content/dxf_curves.h"

#include "core/content/arcs.h"

#include <algorithm>
#include <cmath>

namespace touchmark::content::dxf {
namespace {

using geometry::Segment;

constexpr int deepest_split = 12;

/// Homogeneous: (x·w, y·w, w).
struct Weighted {
    Vec2 p;
    double w = 1;

    friend Weighted operator*(Weighted a, double s) { return {a.p * s, a.w * s}; }
    friend Weighted operator+(Weighted a, Weighted b) { return {a.p + b.p, a.w + b.w}; }
};

struct Sample {
    Vec2 at, derivative;
};

class Curve {
public:
    explicit Curve(const Spline& spline) : degree_(static_cast<std::size_t>(spline.degree)), knots_(spline.knots) {
        for (std::size_t i = 0; i < spline.points.size(); ++i) {
            const double w = i < spline.weights.size() && spline.weights[i] > 0 ? spline.weights[i] : 1;
            points_.push_back({spline.points[i] * w, w});
        }
    }
    /// By de Boor's algorithm, in the span [knot i, knot i+1].
    [[nodiscard]] Sample at(std::size_t span, double u) const {
        std::vector<Weighted> d(points_.begin() + static_cast<std::ptrdiff_t>(span - degree_),
                                points_.begin() + static_cast<std::ptrdiff_t>(span + 1));
        Weighted before{}, after{};
        for (std::size_t r = 1; r <= degree_; ++r) {
            if (r == degree_) before = d[degree_ - 1], after = d[degree_];
            for (std::size_t j = degree_; j >= r; --j) {
                const double low = knots_[j + span - degree_], high = knots_[j + 1 + span - r];
                const double t = high > low ? (u - low) / (high - low) : 0;
                d[j] = d[j - 1] * (1 - t) + d[j] * t;
            }
        }
        const double width = knots_[span + 1] - knots_[span];
        const Weighted slope = (after + before * -1.0) * (static_cast<double>(degree_) / width);
        const Weighted& value = d[degree_];
        const Vec2 p = value.p * (1 / value.w);
        return {p, (slope.p - p * slope.w) * (1 / value.w)};
    }
    [[nodiscard]] const std::vector<double>& knots() const { return knots_; }
    [[nodiscard]] std::size_t degree() const { return degree_; }
    [[nodiscard]] std::size_t point_count() const { return points_.size(); }

private:
    std::size_t degree_;
    std::vector<double> knots_;
    std::vector<Weighted> points_;
};

void fit(const Curve& curve, std::size_t span, double from, double to, double tolerance, int depth,
         std::vector<Segment>& out) {
    const Sample a = curve.at(span, from), b = curve.at(span, to);
    const double third = (to - from) / 3;
    const Segment piece = Segment::cubic(a.at, a.at + a.derivative * third, b.at - b.derivative * third, b.at);
    bool good = true;
    for (const double t : {0.25, 0.5, 0.75})
        good = good && distance(point_at(piece, t), curve.at(span, from + (to - from) * t).at) <= tolerance;
    if (good || depth == deepest_split) {
        out.push_back(piece);
        return;
    }
    const double middle = (from + to) / 2;
    fit(curve, span, from, middle, tolerance, depth + 1, out);
    fit(curve, span, middle, to, tolerance, depth + 1, out);
}

bool sound(const Spline& spline) {
    const std::size_t points = spline.points.size(), degree = static_cast<std::size_t>(std::max(spline.degree, 0));
    return spline.degree >= 1 && spline.degree <= 25 && points > degree && spline.knots.size() == points + degree + 1 &&
           std::ranges::is_sorted(spline.knots);
}

/// The natural cubic spline over the chord lengths: second derivatives from the tridiagonal system.
std::vector<Segment> through(const std::vector<Vec2>& points) {
    std::vector<Segment> out;
    std::vector<Vec2> p;
    for (const Vec2 point : points)
        if (p.empty() || !(point == p.back())) p.push_back(point);
    const std::size_t n = p.size();
    if (n < 2) return out;
    std::vector<double> h(n - 1);
    for (std::size_t i = 0; i + 1 < n; ++i)
        h[i] = distance(p[i], p[i + 1]);
    std::vector<Vec2> m(n), right(n);
    std::vector<double> diagonal(n, 1);
    for (std::size_t i = 1; i + 1 < n; ++i) {
        const double below = i > 1 ? h[i - 1] / diagonal[i - 1] : 0;
        diagonal[i] = 2 * (h[i - 1] + h[i]) - (i > 1 ? below * h[i - 1] : 0);
        right[i] = ((p[i + 1] - p[i]) * (1 / h[i]) - (p[i] - p[i - 1]) * (1 / h[i - 1])) * 6;
        if (i > 1) right[i] = right[i] - right[i - 1] * below;
    }
    for (std::size_t i = n - 2; i >= 1 && n > 2; --i)
        m[i] = (right[i] - m[i + 1] * h[i]) * (1 / diagonal[i]);
    for (std::size_t i = 0; i + 1 < n; ++i) {
        const Vec2 chord = (p[i + 1] - p[i]) * (1 / h[i]);
        const Vec2 start = chord - (m[i] * 2 + m[i + 1]) * (h[i] / 6), end = chord + (m[i] + m[i + 1] * 2) * (h[i] / 6);
        out.push_back(Segment::cubic(p[i], p[i] + start * (h[i] / 3), p[i + 1] - end * (h[i] / 3), p[i + 1]));
    }
    return out;
}

} // namespace

std::vector<Segment> segments_of(const Spline& spline, double tolerance) {
    if (spline.points.empty()) {
        std::vector<Vec2> points = spline.through;
        if (spline.closed && !points.empty() && !(points.front() == points.back())) points.push_back(points.front());
        return through(points);
    }
    if (!sound(spline)) return {};
    const Curve curve(spline);
    std::vector<Segment> out;
    for (std::size_t span = curve.degree(); span < curve.point_count(); ++span)
        if (curve.knots()[span + 1] > curve.knots()[span])
            fit(curve, span, curve.knots()[span], curve.knots()[span + 1], tolerance, 0, out);
    for (std::size_t i = 1; i < out.size(); ++i)
        out[i].points[0] = out[i - 1].end();
    return out;
}

std::vector<Segment> side(Vec2 from, Vec2 to, double bulge) {
    if (from == to) return {};
    if (std::abs(bulge) < 1e-9 || !std::isfinite(bulge)) return {Segment::line(from, to)};
    const double chord = distance(from, to), radius = chord * (1 + bulge * bulge) / (4 * std::abs(bulge));
    return arc({from, to, radius, radius, 0, std::abs(bulge) > 1, bulge > 0});
}

} // namespace touchmark::content::dxf
