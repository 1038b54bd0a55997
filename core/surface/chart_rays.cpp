// SPDX-License-Identifier: MIT
#include "core/surface/chart.h"
#include "core/surface/polar_table.h"

#include <algorithm>
#include <cmath>

namespace touchmark::surface {
namespace {

// A geodesic's second derivative has no part along the surface: P″ = II(P′, P′) n. A neighbouring one, leaving at an
// angle dφ, is J dφ away, where J″ = −K J, J(0) = 0, J′(0) = 1 (Jacobi; do Carmo, Differential Geometry of Curves and
// Surfaces, 4-4 and 5-5). J / s is the stretch across the ray. Its direction is followed in space, where it is smooth
// even at knots at which the parameters are not.

constexpr double most_stretch = 2; // beyond that a ray ends
constexpr double steepest = 0.4;   // cosine to the anchor's normal at which a projection ends
constexpr double half = 0.499;     // of a period
constexpr int creeping = 6;        // halvings of the step that goes too far

struct Metric {
    double e, f, g, det;

    Metric(const Vec3& du, const Vec3& dv) : e(dot(du, du)), f(dot(du, dv)), g(dot(dv, dv)), det(e * g - f * f) {}
    [[nodiscard]] bool regular() const { return det > 1e-8 * e * g && det > 0; }
    /// (a, b) with a du + b dv nearest to `v`.
    [[nodiscard]] Vec2 components(const Vec3& v, const Vec3& du, const Vec3& dv) const {
        const double x = dot(v, du), y = dot(v, dv);
        return {(g * x - f * y) / det, (e * y - f * x) / det};
    }
};

struct State {
    Vec2 uv;
    Vec3 way;
    double jacobi = 0, growth = 1;

    friend State operator+(const State& s, const State& d) {
        return {s.uv + d.uv, s.way + d.way, s.jacobi + d.jacobi, s.growth + d.growth};
    }
    friend State operator*(const State& s, double by) { return {s.uv * by, s.way * by, s.jacobi * by, s.growth * by}; }
};

/// Fills a table ray by ray; how far each goes.
class Shooter {
public:
    Shooter(const CurvedFace& face, const Anchorage& anchorage)
        : face_(face), anchor_(anchorage), surface_(face, face.placing) {}

    /// A geodesic and a projection's image of a straight line agree up to the second order but for the normal part of
    /// the first.
    [[nodiscard]] PolarTable::Origin origin() const {
        const auto s = surface_.second(anchor_.uv);
        const Metric metric(s.du, s.dv);
        const auto bend = [&](Vec2 v, Vec2 w) {
            const Vec3 second = s.duu * (v.x * w.x) + s.duv * (v.x * w.y + v.y * w.x) + s.dvv * (v.y * w.y);
            return Laid{metric.components(second, s.du, s.dv) * -1, anchor_.frame.z * dot(second, anchor_.frame.z)};
        };
        const Vec2 a = anchor_.across, b = anchor_.along;
        return {{a, anchor_.frame.x}, {b, anchor_.frame.y}, bend(a, a), bend(a, b), bend(b, b)};
    }

    double shoot(PolarTable& table, int ray) const {
        const double angle = PolarTable::angle(ray);
        State s{anchor_.uv, anchor_.frame.x * std::cos(angle) + anchor_.frame.y * std::sin(angle)};
        double r = 0;
        for (int ring = 1; ring <= PolarTable::rings; ++ring) {
            const double whole = table.radius(ring) - r;
            double bending = 0;
            if (!slope(s, bending)) return end(table, ray, ring, r, s.uv, s.way);
            constexpr double turns = 0.25; // radians a step: the method's error is then some 1e-6 of it
            const int parts = std::clamp(static_cast<int>(std::ceil(whole * bending / turns)), 1, 8);
            for (int part = 0; part < parts; ++part) {
                const auto next = step(s, whole / parts);
                if (!next || !good(*next, r + whole / parts)) {
                    creep(s, r, whole / parts);
                    return end(table, ray, ring, r, s.uv, s.way);
                }
                s = *next;
                r += whole / parts;
            }
            r = table.radius(ring);
            const auto there = surface_.first(s.uv);
            const Metric metric(there.du, there.dv);
            table.set(ray, ring, relative(s.uv, there.point), {metric.components(s.way, there.du, there.dv), s.way});
        }
        return table.reach();
    }

    double project(PolarTable& table, int ray) const {
        const double angle = PolarTable::angle(ray);
        const Vec2 way{std::cos(angle), std::sin(angle)};
        Below s{anchor_.uv, anchor_.across * way.x + anchor_.along * way.y,
                anchor_.frame.x * way.x + anchor_.frame.y * way.y};
        double r = 0;
        for (int ring = 1; ring <= PolarTable::rings; ++ring) {
            const double next_r = table.radius(ring);
            const auto at = [&](double to) { return below(surface_, way * to, way, s.uv + s.way * (to - r)); };
            const auto next = at(next_r);
            if (!next || left_domain(next->uv)) {
                double h = next_r - r;
                for (int i = 0; i < creeping; ++i)
                    if (const auto nearer = at(r + (h /= 2)); nearer && !left_domain(nearer->uv)) s = *nearer, r += h;
                return end(table, ray, ring, r, s.uv, s.along);
            }
            s = *next;
            r = next_r;
            table.set(ray, ring, relative(s.uv, surface_.first(s.uv).point), {s.way, s.along});
        }
        return table.reach();
    }

    struct Below {
        Vec2 uv, way; ///< the parameters and their derivative along the ray
        Vec3 along;
    };
    /// The surface point under a place of the tangent plane.
    [[nodiscard]] std::optional<Below> below(const SurfaceEvaluator& surface, Vec2 q, Vec2 way, Vec2 start) const {
        const Frame& frame = anchor_.frame;
        Vec2 uv = start;
        for (int i = 0; i < 12; ++i) {
            const auto p = surface.first(uv);
            const Vec2 du{dot(p.du, frame.x), dot(p.du, frame.y)}, dv{dot(p.dv, frame.x), dot(p.dv, frame.y)};
            const double det = cross(du, dv);
            if (!(dot(surface.normal(p.du, p.dv), frame.z) > steepest)) return std::nullopt;
            const auto solved = [&](Vec2 d) { return Vec2{cross(d, dv) / det, cross(du, d) / det}; };
            const Vec2 off = q - frame.to_plane(p.point);
            uv = uv + solved(off);
            if (length(off) > 1e-9) continue;
            const Vec2 along = solved(way);
            return Below{uv, along, p.du * along.x + p.dv * along.y};
        }
        return std::nullopt;
    }

private:
    [[nodiscard]] Laid relative(Vec2 uv, const Vec3& p) const { return {uv - anchor_.uv, p - anchor_.frame.origin}; }

    [[nodiscard]] bool left_domain(Vec2 uv) const {
        const auto out = [](double at, double start, double low, double high, double period) {
            const double more = 0.08 * (high - low);
            return period > 0 ? std::abs(at - start) > half * period : at < low - more || at > high + more;
        };
        return out(uv.x, anchor_.uv.x, face_.domain.low.x, face_.domain.high.x, face_.period.x) ||
               out(uv.y, anchor_.uv.y, face_.domain.low.y, face_.domain.high.y, face_.period.y);
    }

    [[nodiscard]] std::optional<State> slope(const State& s, double& bending) const {
        const auto p = surface_.second(s.uv);
        const Metric metric(p.du, p.dv);
        if (!metric.regular()) return std::nullopt;
        const Vec2 w = metric.components(s.way, p.du, p.dv);
        const Vec3 normal = surface_.normal(p.du, p.dv);
        const double l = dot(p.duu, normal), m = dot(p.duv, normal), n = dot(p.dvv, normal);
        const double second = l * w.x * w.x + 2 * m * w.x * w.y + n * w.y * w.y;
        bending = std::abs(second);
        return State{w, normal * second, s.growth, -(l * n - m * m) / metric.det * s.jacobi};
    }
    /// Runge and Kutta's, of the fourth order.
    [[nodiscard]] std::optional<State> step(const State& s, double h) const {
        double bending = 0;
        const auto k1 = slope(s, bending);
        if (!k1) return std::nullopt;
        const auto k2 = slope(s + *k1 * (h / 2), bending);
        if (!k2) return std::nullopt;
        const auto k3 = slope(s + *k2 * (h / 2), bending);
        if (!k3) return std::nullopt;
        const auto k4 = slope(s + *k3 * h, bending);
        if (!k4) return std::nullopt;
        return s + (*k1 + *k2 * 2 + *k3 * 2 + *k4) * (h / 6);
    }

    [[nodiscard]] bool good(const State& s, double r) const {
        if (!std::isfinite(s.uv.x + s.uv.y + s.jacobi)) return false;
        const double stretch = s.jacobi / r;
        return !left_domain(s.uv) && stretch >= 1 / most_stretch && stretch <= most_stretch;
    }
    /// As far as it goes of a step that does not.
    void creep(State& s, double& r, double h) const {
        for (int i = 0; i < creeping; ++i) {
            h /= 2;
            const auto next = step(s, h);
            if (next && good(*next, r + h)) s = *next, r += h;
        }
    }

    /// Puts the rest of a ray straight on; how far it is good.
    double end(PolarTable& table, int ray, int ring, double good, Vec2 uv, const Vec3& way) const {
        const auto there = surface_.first(uv);
        const Metric metric(there.du, there.dv);
        const Vec2 w = metric.regular() ? metric.components(way, there.du, there.dv) : Vec2{};
        for (; ring <= PolarTable::rings; ++ring)
            table.set(ray, ring, relative(uv, there.point) + Laid{w, way} * (table.radius(ring) - good), {w, way});
        return good;
    }

    const CurvedFace& face_;
    const Anchorage& anchor_;
    SurfaceEvaluator surface_;
};

class TableChart final : public Chart {
public:
    TableChart(const std::shared_ptr<const CurvedFace>& face, const Anchorage& anchorage, Laying laying, double reach)
        : Chart(face, anchorage), laying_(laying), table_(Shooter(*face, anchorage).origin(), reach) {
        const Shooter shooter(*face, anchorage);
        std::vector<double> ends;
        for (int ray = 0; ray < PolarTable::rays; ++ray)
            ends.push_back(laying == Laying::wrap ? shooter.shoot(table_, ray) : shooter.project(table_, ray));
        table_.finish();
        end_at(std::move(ends));
    }

protected:
    /// The table's place is off the surface by a hair, and its parameters by more where they are not smooth.
    [[nodiscard]] Vec2 away(Vec2 q) const override {
        const Laid laid = table_.value(q);
        if (!reaches(q, 1)) return laid.uv;
        const SurfaceEvaluator& surface = evaluator_of(face());
        const Vec3 wanted = anchorage().frame.origin + laid.point;
        Vec2 uv = anchorage().uv + laid.uv;
        for (int i = 0; i < 5; ++i) {
            const auto at = surface.first(uv);
            const Metric metric(at.du, at.dv);
            Vec2 move;
            double off = 0;
            if (laying_ == Laying::project) {
                const Frame& frame = anchorage().frame;
                const Vec2 du{dot(at.du, frame.x), dot(at.du, frame.y)}, dv{dot(at.dv, frame.x), dot(at.dv, frame.y)};
                const Vec2 d = q - frame.to_plane(at.point);
                const double det = cross(du, dv);
                move = {cross(d, dv) / det, cross(du, d) / det};
                off = length(d);
            } else {
                move = metric.components(wanted - at.point, at.du, at.dv);
                off =
                    std::sqrt(metric.e * move.x * move.x + 2 * metric.f * move.x * move.y + metric.g * move.y * move.y);
            }
            if (!std::isfinite(move.x + move.y) || off > 1) return laid.uv;
            uv = uv + move;
            if (off < 1e-6) break; // the next one's is its square
        }
        return uv - anchorage().uv;
    }

private:
    Laying laying_;
    PolarTable table_;
};

/// No farther than the face goes, and not as far as a pole.
double reach_of(const CurvedFace& face, const Anchorage& anchorage) {
    const SurfaceEvaluator& surface = evaluator_of(face);
    constexpr double longest = 250, more = 1.3; // mm; the way along the surface is longer than the straight one
    double farthest = 0;
    for (const geometry::Polygon& loop : face.loops)
        for (std::size_t i = 0; i < loop.size(); i += 1 + loop.size() / 64)
            farthest = std::max(farthest, distance(surface.first(loop[i]).point, anchorage.frame.origin));
    double reach = std::min(longest, std::max(1e-3, more * farthest));
    for (const Vec3& pole : face.poles)
        reach = std::min(reach, std::max(1e-3, 0.98 * distance(pole, anchorage.frame.origin)));
    return reach;
}

} // namespace

ChartPtr chart_about(const std::shared_ptr<const CurvedFace>& face, const Anchorage& anchorage, Laying laying) {
    if (auto sphere = sphere_chart(face, anchorage, laying)) return sphere;
    return std::make_shared<const TableChart>(face, anchorage, laying, reach_of(*face, anchorage));
}

} // namespace touchmark::surface
