// SPDX-License-Identifier: MIT
#include "core/imprint/stored_round.h"

#include "core/imprint/interpolation.h"
#include "core/part/vectors.h"

#include <BRepTools.hxx>
#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <Geom2d_BSplineCurve.hxx>
#include <GeomAdaptor_Surface.hxx>
#include <TColStd_Array1OfInteger.hxx>
#include <TColStd_Array1OfReal.hxx>
#include <TColgp_Array1OfPnt2d.hxx>
#include <TopExp.hxx>
#include <TopoDS_Vertex.hxx>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace touchmark::imprint {
namespace {

using Quintic = Interpolation<5>;

constexpr double turn = 2 * std::numbers::pi;
constexpr double exact = 1e-7;       // Precision::Confusion()
constexpr double rims_within = 2e-7; // mm along the surface
constexpr int steps = 24;            // of the grid, each way
constexpr std::array between{0.04, 0.21, 0.5, 0.79, 0.96};

double nearest_turn(double u, double by) {
    return u + turn * std::round((by - u) / turn);
}

Vec2 value(const std::array<Vec2, 6>& poles, double x) {
    const auto b = Quintic::bernstein(x);
    Vec2 sum;
    for (std::size_t i = 0; i < 6; ++i)
        sum = sum + poles[i] * b[i];
    return sum;
}

std::array<Vec2, 6> poles_through(const std::array<Vec2, 6>& values) {
    const auto& matrix = Quintic::pole_matrix();
    std::array<Vec2, 6> poles{};
    for (std::size_t i = 0; i < 6; ++i)
        for (std::size_t k = 0; k < 6; ++k)
            poles[i] = poles[i] + values[k] * matrix[i][k];
    poles.front() = values.front();
    poles.back() = values.back();
    return poles;
}

} // namespace

StoredRound::StoredRound(const TopoDS_Face& face, const surface::Unrolling& unrolling) : unrolling_(unrolling) {
    stored_ = BRep_Tool::Surface(face, location_);
    BRepTools::UVBounds(face, low_[0], high_[0], low_[1], high_[1]);
    // Curves of the edges may reach beyond the surface, or seem to.
    double low_u = 0, high_u = 0, low_v = 0, high_v = 0;
    stored_->Bounds(low_u, high_u, low_v, high_v);
    if (!stored_->IsUPeriodic()) low_[0] = std::max(low_[0], low_u), high_[0] = std::min(high_[0], high_u);
    if (!stored_->IsVPeriodic()) low_[1] = std::max(low_[1], low_v), high_[1] = std::min(high_[1], high_v);
    const GeomAdaptor_Surface surface(stored_, low_[0], high_[0], low_[1], high_[1]);
    TColStd_Array1OfReal u(1, surface.NbUIntervals(GeomAbs_C3) + 1), v(1, surface.NbVIntervals(GeomAbs_C3) + 1);
    surface.UIntervals(u, GeomAbs_C3);
    surface.VIntervals(v, GeomAbs_C3);
    breaks_ = {std::vector<double>(u.begin() + 1, u.end() - 1), std::vector<double>(v.begin() + 1, v.end() - 1)};
    nodes_.reserve((steps + 1) * (steps + 1));
    for (int i = 0; i <= steps; ++i)
        for (int k = 0; k <= steps; ++k)
            add_node(i, k);
}

void StoredRound::add_node(int i, int k) {
    const Vec2 at{low_[0] + (high_[0] - low_[0]) * i / steps, low_[1] + (high_[1] - low_[1]) * k / steps};
    Vec2 uv = unrolling_.parameters_near(point(at));
    if (!nodes_.empty()) {
        const Node& before = k > 0 ? nodes_.back() : nodes_[nodes_.size() - steps - 1];
        // All angles meet at an apex.
        uv.x = std::abs(unrolling_.radius_at(uv.y)) < 1e-6 ? before.unrolled.x : nearest_turn(uv.x, before.unrolled.x);
    }
    least_u_ = std::min(least_u_, uv.x);
    most_u_ = std::max(most_u_, uv.x);
    nodes_.push_back({at, uv});
}

Vec3 StoredRound::point(Vec2 stored) const {
    gp_Pnt p;
    stored_->D0(stored.x, stored.y, p);
    if (!location_.IsIdentity()) p.Transform(location_.Transformation());
    return part::vec(p);
}

Vec2 StoredRound::unrolled(Vec2 stored) const {
    const auto step = [&](double at, std::size_t way) {
        const double part = (at - low_[way]) / (high_[way] - low_[way]);
        return static_cast<std::size_t>(std::clamp(std::round(part * steps), 0.0, static_cast<double>(steps)));
    };
    const Node& near = nodes_[step(stored.x, 0) * (steps + 1) + step(stored.y, 1)];
    Vec2 uv = unrolling_.parameters_near(point(stored));
    uv.x = nearest_turn(uv.x, near.unrolled.x);
    return uv;
}

double StoredRound::seam_hair() const {
    constexpr double off = 4e-6; // mm
    return off / std::max(std::abs(unrolling_.radius_at(unrolling_.centre.y)), 1e-3);
}

std::optional<Vec2> StoredRound::stored(const Vec3& p, Vec2 near_unrolled) const {
    const double radius = std::abs(unrolling_.radius_at(near_unrolled.y));
    const auto off = [&](const Node& node) {
        const Vec2 d = node.unrolled - near_unrolled;
        return std::hypot(d.x * radius, d.y);
    };
    Vec2 at = std::min_element(nodes_.begin(), nodes_.end(), [&](const Node& a, const Node& b) {
                  return off(a) < off(b);
              })->stored;
    const gp_Pnt target = part::point(p).Transformed(location_.Transformation().Inverted());
    constexpr int most = 30;
    for (int i = 0; i < most; ++i) {
        gp_Pnt here;
        gp_Vec du, dv;
        stored_->D1(at.x, at.y, here, du, dv);
        const gp_Vec d(here, target);
        const double uu = du.Dot(du), uv = du.Dot(dv), vv = dv.Dot(dv), det = uu * vv - uv * uv;
        if (!(det > 1e-18 * uu * vv)) return std::nullopt;
        const double a = d.Dot(du), b = d.Dot(dv);
        Vec2 step{(a * vv - b * uv) / det, (b * uu - a * uv) / det};
        const Vec2 next{std::clamp(at.x + step.x, low_[0], high_[0]), std::clamp(at.y + step.y, low_[1], high_[1])};
        step = next - at;
        at = next;
        if (std::abs(step.x) * std::sqrt(uu) < 1e-12 && std::abs(step.y) * std::sqrt(vv) < 1e-12) break;
    }
    constexpr double far = 1e-5; // mm
    if (distance(point(at), p) > far) return std::nullopt;
    return at;
}

/// Where between the two the surface is less smooth, as a place of the curve.
std::optional<double> StoredRound::cut(double first, double last, const Place& place) const {
    const auto from = place(first), to = place(last);
    if (!from || !to) return std::nullopt;
    for (const std::size_t way : {0u, 1u}) {
        const auto of = [&](Vec2 p) { return way == 0 ? p.x : p.y; };
        const double a = of(*from), b = of(*to), hair = 1e-9 * (high_[way] - low_[way]);
        for (const double at : breaks_[way]) {
            if (at < std::min(a, b) + hair || at > std::max(a, b) - hair) continue;
            double low = first, high = last;
            for (int i = 0; i < 44; ++i) {
                const double middle = (low + high) / 2;
                const auto there = place(middle);
                if (!there) return std::nullopt;
                ((of(*there) < at) == (a < at) ? low : high) = middle;
            }
            return (low + high) / 2;
        }
    }
    return std::nullopt;
}

bool StoredRound::fit(const Wanted& wanted, double first, double last, const Place& place, std::vector<Fit>& out,
                      int depth) const {
    constexpr int deepest = 12;
    double middle = (first + last) / 2;
    if (const auto smooth = cut(first, last, place)) {
        middle = *smooth;
    } else {
        Fit fit{first, last, {}, 0};
        std::array<Vec2, 6> values;
        double stray = 0; // of the surface from the cylinder
        for (std::size_t i = 0; i < 6; ++i) {
            const double t = first + (last - first) * Quintic::node(i);
            const auto at = place(t);
            if (!at) return false;
            values[i] = *at;
            stray = std::max(stray, distance(point(*at), wanted(t)));
        }
        fit.poles = poles_through(values);
        for (const double x : between)
            fit.off = std::max(fit.off, distance(point(value(fit.poles, x)), wanted(first + (last - first) * x)));
        if (fit.off <= rims_within + 2 * stray || depth >= deepest) {
            fit.off = std::max(fit.off, stray);
            out.push_back(fit);
            return true;
        }
    }
    return fit(wanted, first, middle, place, out, depth + 1) && fit(wanted, middle, last, place, out, depth + 1);
}

void StoredRound::lay_on(const TopoDS_Edge& edge, const std::function<Vec2(double)>& uv) const {
    double first = 0, last = 0;
    const Handle(Geom_Curve) curve = BRep_Tool::Curve(edge, first, last);
    // By how many turns it lies beside what the face covers.
    constexpr double hair = 1e-3;
    const double middle = uv(0.5).x;
    double by = 0;
    if (middle < least_u_ - hair) by = turn * std::ceil((least_u_ - hair - middle) / turn);
    if (middle > most_u_ + hair) by = -turn * std::ceil((middle - most_u_ - hair) / turn);
    const auto in_space = [&](double t) { return part::vec(curve->Value(t)); };
    const auto meant = [&](double t) { return uv((t - first) / (last - first)) + Vec2{by, 0}; };
    // Where the parameters run together, what is meant is exact; else the curve itself is followed.
    constexpr double together = 1e-5; // mm
    const bool exactly = std::ranges::all_of(between, [&](double x) {
        const double t = first + (last - first) * x;
        return distance(unrolling_.point(meant(t)), in_space(t)) < together;
    });
    const Wanted wanted = [&](double t) { return exactly ? unrolling_.point(meant(t)) : in_space(t); };
    const Place place = [&](double t) {
        if (exactly) return stored(wanted(t), meant(t));
        const Vec3 p = in_space(t);
        Vec2 at = unrolling_.parameters_near(p);
        at.x = nearest_turn(at.x, meant(t).x);
        return stored(p, at);
    };
    std::vector<Fit> fits;
    if (!fit(wanted, first, last, place, fits, 0)) return;
    for (Fit& fit : fits)
        for (const double x : between)
            fit.off = std::max(fit.off,
                               distance(point(value(fit.poles, x)), in_space(fit.first + (fit.last - fit.first) * x)));
    const int count = static_cast<int>(fits.size());
    TColgp_Array1OfPnt2d poles(1, 5 * count + 1);
    TColStd_Array1OfReal knots(1, count + 1);
    TColStd_Array1OfInteger folds(1, count + 1);
    folds.Init(5);
    folds(1) = folds(count + 1) = 6;
    knots(1) = first;
    double tolerance = exact;
    for (int i = 0; i < count; ++i) {
        const Fit& fit = fits[static_cast<std::size_t>(i)];
        for (int k = 0; k < 6; ++k)
            poles(5 * i + k + 1) =
                gp_Pnt2d(fit.poles[static_cast<std::size_t>(k)].x, fit.poles[static_cast<std::size_t>(k)].y);
        knots(i + 2) = fit.last;
        tolerance = std::max(tolerance, 1.5 * fit.off);
    }
    const BRep_Builder builder;
    builder.UpdateEdge(edge, new Geom2d_BSplineCurve(poles, knots, folds, 5), stored_, location_, tolerance);
    TopoDS_Vertex begin, end;
    TopExp::Vertices(edge, begin, end);
    builder.UpdateVertex(begin, tolerance);
    builder.UpdateVertex(end, tolerance);
}

} // namespace touchmark::imprint
