// SPDX-License-Identifier: MIT
#include "core/part/patch.h"
#include "core/part/recognise.h"
#include "core/part/vectors.h"

#include <BRepAdaptor_Surface.hxx>
#include <math_Gauss.hxx>
#include <math_Jacobi.hxx>
#include <math_Matrix.hxx>
#include <math_Vector.hxx>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace touchmark::part {
namespace {

/// A cylinder or cone with its origin about the middle of the points.
struct Round {
    Frame frame; ///< z: the axis
    double radius = 0, angle = 0;

    struct Seen {
        double out, along; ///< from the axis, and along it
        Vec3 away;         ///< from the axis, unit
    };
    [[nodiscard]] Seen seen(const Vec3& p) const {
        const Vec3 d = p - frame.origin;
        const double along = dot(d, frame.z);
        const Vec3 away = d - frame.z * along;
        const double out = length(away);
        return {out, along, out > 0 ? away * (1 / out) : frame.x};
    }
    [[nodiscard]] double height(const Seen& at) const {
        return (at.out - radius) * std::cos(angle) - at.along * std::sin(angle);
    }
    [[nodiscard]] Vec3 normal(const Seen& at) const { return at.away * std::cos(angle) - frame.z * std::sin(angle); }
};

Vec3 normal_of(const PatchPoint& p) {
    const Vec3 n = cross(p.du, p.dv);
    const double size = length(n);
    return size > 1e-9 * length(p.du) * length(p.dv) && size > 0 ? n * (1 / size) : Vec3();
}

/// The direction in which the normals vary least about their mean (of a cone), or about nothing (of a cylinder).
std::optional<Vec3> least_direction(const std::vector<PatchPoint>& points, bool about_mean) {
    Vec3 mean;
    if (about_mean) {
        for (const PatchPoint& p : points)
            mean = mean + normal_of(p);
        mean = mean * (1.0 / static_cast<double>(points.size()));
    }
    math_Matrix spread(1, 3, 1, 3, 0.0);
    for (const PatchPoint& p : points) {
        const Vec3 n = normal_of(p) - mean;
        const std::array c{n.x, n.y, n.z};
        for (int i = 1; i <= 3; ++i)
            for (int k = 1; k <= 3; ++k)
                spread(i, k) += c[static_cast<std::size_t>(i - 1)] * c[static_cast<std::size_t>(k - 1)];
    }
    const math_Jacobi solved(spread);
    if (!solved.IsDone()) return std::nullopt;
    int least = 1;
    for (int i = 2; i <= 3; ++i)
        if (solved.Value(i) < solved.Value(least)) least = i;
    math_Vector way(1, 3);
    solved.Vector(least, way);
    return normalised(Vec3{way(1), way(2), way(3)});
}

std::optional<math_Vector> solved(const math_Matrix& matrix, const math_Vector& right) {
    const math_Gauss gauss(matrix);
    if (!gauss.IsDone()) return std::nullopt;
    math_Vector out(right.Lower(), right.Upper());
    gauss.Solve(right, out);
    return out;
}

/// The axis's place: every normal is to meet it. Least squares in the plane square to it.
bool place_axis(const std::vector<PatchPoint>& points, Round& round) {
    math_Matrix m(1, 2, 1, 2, 0.0);
    math_Vector b(1, 2, 0.0);
    for (const PatchPoint& p : points) {
        const Vec3 n = normal_of(p), d = p.at - round.frame.origin;
        const double nx = dot(n, round.frame.x), ny = dot(n, round.frame.y);
        const double c = dot(d, round.frame.x) * ny - dot(d, round.frame.y) * nx;
        m(1, 1) += ny * ny, m(1, 2) -= nx * ny, m(2, 1) -= nx * ny, m(2, 2) += nx * nx;
        b(1) += c * ny, b(2) -= c * nx;
    }
    const auto at = solved(m, b);
    if (!at) return false;
    round.frame.origin = round.frame.origin + round.frame.x * (*at)(1) + round.frame.y * (*at)(2);
    return true;
}

/// A step of Gauss and Newton on the distances: place, direction and radius, and of a cone the angle.
bool improve(const std::vector<PatchPoint>& points, bool cone, Round& round) {
    const int count = cone ? 6 : 5;
    math_Matrix m(1, count, 1, count, 0.0);
    math_Vector b(1, count, 0.0);
    const double c = std::cos(round.angle), s = std::sin(round.angle);
    for (const PatchPoint& p : points) {
        const Round::Seen at = round.seen(p.at);
        const double ex = dot(at.away, round.frame.x), ey = dot(at.away, round.frame.y);
        const double off = round.height(at);
        // Tilting z by (a, b) moves the point as seen along it by out · (a ex + b ey), and away by the opposite of
        // along · (a ex + b ey).
        const double tilt = -c * at.along - s * at.out;
        const std::array<double, 6> by{-c * ex,   -c * ey, tilt * ex,
                                       tilt * ey, -c,      -s * (at.out - round.radius) - c * at.along};
        for (int i = 0; i < count; ++i) {
            for (int k = 0; k < count; ++k)
                m(i + 1, k + 1) += by[static_cast<std::size_t>(i)] * by[static_cast<std::size_t>(k)];
            b(i + 1) -= by[static_cast<std::size_t>(i)] * off;
        }
    }
    const auto step = solved(m, b);
    if (!step) return false;
    Frame& frame = round.frame;
    frame = frame_from(frame.origin + frame.x * (*step)(1) + frame.y * (*step)(2),
                       frame.z + frame.x * (*step)(3) + frame.y * (*step)(4), frame.x);
    round.radius += (*step)(5);
    if (cone) round.angle += (*step)(6);
    return true;
}

std::optional<Round> fitted(const std::vector<PatchPoint>& points, bool cone) {
    Round round;
    Vec3 middle;
    for (const PatchPoint& p : points)
        middle = middle + p.at * (1.0 / static_cast<double>(points.size()));
    const auto axis = least_direction(points, cone);
    if (!axis) return std::nullopt;
    round.frame = frame_from(middle, *axis, {1, 0, 0});
    constexpr double rough = 1e-3;
    double lean = 0;
    for (const PatchPoint& p : points)
        lean += dot(normal_of(p), round.frame.z) / static_cast<double>(points.size());
    for (const PatchPoint& p : points)
        if (std::abs(dot(normal_of(p), round.frame.z) - (cone ? lean : 0)) > rough) return std::nullopt;
    if (!place_axis(points, round)) return std::nullopt;
    double side = 0;
    for (const PatchPoint& p : points) {
        const Round::Seen at = round.seen(p.at);
        side += dot(normal_of(p), at.away);
        round.radius += at.out / static_cast<double>(points.size());
    }
    if (cone) round.angle = std::asin(std::clamp(side > 0 ? -lean : lean, -1.0, 1.0));
    constexpr int steps = 6;
    for (int i = 0; i < steps; ++i)
        if (!improve(points, cone, round) || !(round.radius > 0) || !(round.radius < 1e6)) return std::nullopt;
    return round;
}

/// Held against points between those that it was fitted to.
bool holds(const Round& round, const Patch& patch) {
    constexpr double least_bulge = 1e-3; // mm out of a plane: what is flatter may be anything
    double side = 0;
    const Vec3 first = normal_of(patch.spread(1)[0]);
    double low = 1e300, high = -1e300;
    for (const PatchPoint& p : patch.dense()) {
        const Round::Seen at = round.seen(p.at);
        if (std::abs(round.height(at)) > taken_within) return false;
        const Vec3 n = normal_of(p);
        low = std::min(low, dot(p.at, first));
        high = std::max(high, dot(p.at, first));
        if (n == Vec3() || at.out < 1e-6) continue; // at a cone's apex
        const Vec3 wanted = round.normal(at);
        if (side == 0) side = dot(n, wanted);
        if (dot(n, wanted) * side <= 0 || length(cross(n, wanted)) > leaning_within) return false;
    }
    return side != 0 && high - low > least_bulge;
}

RoundForm form_of(Round round, const Patch& patch) {
    const PatchPoint corner = patch.corner(), middle = patch.spread(1)[0];
    // Along the parameter that runs along the generators.
    const double u = dot(normalised(middle.du), round.frame.z), v = dot(normalised(middle.dv), round.frame.z);
    if ((std::abs(u) > std::abs(v) ? u : v) < 0) {
        round.frame.z = -round.frame.z;
        round.angle = -round.angle;
    }
    const Round::Seen at = round.seen(middle.at);
    const bool outward = dot(normal_of(middle), at.away) > 0;
    const Round::Seen first = round.seen(corner.at);
    RoundForm form;
    form.axes =
        gp_Ax3(point(round.frame.origin), direction(round.frame.z), direction(first.out > 1e-6 ? first.away : at.away));
    if (!outward) form.axes.YReverse();
    form.radius = round.radius;
    form.semi_angle = round.angle;
    return form;
}

std::optional<RoundForm> round_form(const Patch& patch) {
    constexpr double least_angle = 1e-5; // of a cone
    if (!patch.is_finite()) return std::nullopt;
    for (const int count : {4, 12}) { // most of what is neither is found out by few
        const std::vector<PatchPoint> points = patch.spread(count);
        if (std::any_of(points.begin(), points.end(), [](const PatchPoint& p) { return normal_of(p) == Vec3(); }))
            return std::nullopt;
        bool likely = false;
        for (const bool cone : {false, true}) {
            const auto round = fitted(points, cone);
            if (!round || (cone && (std::abs(round->angle) < least_angle ||
                                    std::abs(round->angle) > std::numbers::pi / 2 - least_angle)))
                continue;
            likely = likely || std::all_of(points.begin(), points.end(), [&](const PatchPoint& p) {
                         return std::abs(round->height(round->seen(p.at))) < 10 * taken_within;
                     });
            if (count > 4 && holds(*round, patch)) return form_of(*round, patch);
        }
        if (!likely) return std::nullopt;
    }
    return std::nullopt;
}

} // namespace

std::optional<RoundForm> recognised_round(const TopoDS_Face& face) {
    const BRepAdaptor_Surface whole(face, Standard_False);
    switch (whole.GetType()) {
    case GeomAbs_BSplineSurface:
    case GeomAbs_BezierSurface:
        if (const auto form = round_form(Patch(whole))) return form;
        [[fallthrough]];
    case GeomAbs_SurfaceOfExtrusion:
    case GeomAbs_SurfaceOfRevolution:
    case GeomAbs_OffsetSurface:
    case GeomAbs_OtherSurface:
        return round_form(Patch(BRepAdaptor_Surface(face)));
    default:
        return std::nullopt;
    }
}

} // namespace touchmark::part
