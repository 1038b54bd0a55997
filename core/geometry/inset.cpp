// SPDX-License-Identifier: MIT
#include "core/geometry/inset.h"

#include "core/base/quadrature.h"
#include "core/geometry/bezier.h"
#include "core/geometry/box_tree.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace touchmark::geometry {
namespace {

constexpr double smooth = 0.01; // rad
constexpr double flat = 1e-4;   // mm that the polygons of a region may be off its curves

Vec2 left_of(Vec2 v) {
    return {-v.y, v.x};
}

Vec2 second_derivative(const Segment& segment, double t) {
    const auto& p = segment.points;
    if (segment.degree == 1) return {};
    if (segment.degree == 2) return (p[0] - p[1] * 2 + p[2]) * 2;
    return (p[0] - p[1] * 2 + p[2]) * (6 * (1 - t)) + (p[1] - p[2] * 2 + p[3]) * (6 * t);
}

/// Unit; of a curve whose first control points coincide, the limit.
Vec2 tangent(const Segment& segment, double t) {
    const Vec2 along = derivative_at(segment, t);
    const double size = length(along);
    constexpr double least = 1e-9; // mm
    if (size > least) return along * (1 / size);
    Vec2 way = t < 0.5 ? derivative_at(segment, t + 1e-4) : derivative_at(segment, t - 1e-4);
    const double other = length(way);
    return other > 0 ? way * (1 / other) : Vec2{1, 0};
}

double shift_at(const InsetSide& side, double t) {
    return side.shift_start * (1 - t) + side.shift_end * t;
}

/// Times the speed of the curve.
double turning(const Segment& segment, double t) {
    if (segment.degree == 1) return 0;
    const Vec2 first = derivative_at(segment, t);
    const double square = dot(first, first);
    return square > 0 ? cross(first, second_derivative(segment, t)) / square : 0;
}

} // namespace

Vec2 InsetSide::way(double t) const {
    const Vec2 along = tangent(curve, t);
    return left_of(along) + along * shift_at(*this, t);
}

double InsetSide::speed(double t, double distance) const {
    return length(derivative_at(curve, t)) + distance * (shift_end - shift_start - turning(curve, t));
}

Vec2 InsetSide::derivative(double t, double distance) const {
    const Vec2 along = tangent(curve, t);
    return along * speed(t, distance) + left_of(along) * (distance * shift_at(*this, t) * turning(curve, t));
}

InsetContour::InsetContour(const Contour& contour) {
    for (const Segment& segment : contour.segments)
        sides_.push_back({segment, 0, 0});
    const std::size_t count = sides_.size();
    for (std::size_t i = 0; i < count; ++i) {
        InsetSide &before = sides_[(i + count - 1) % count], &after = sides_[i];
        const Vec2 in = tangent(before.curve, 1), out = tangent(after.curve, 0);
        InsetJoint joint;
        joint.corner = after.curve.start();
        joint.turn = std::atan2(cross(in, out), dot(in, out));
        joint.before = left_of(in);
        joint.after = left_of(out);
        const bool lines = before.is_line() && after.is_line();
        if (std::abs(joint.turn) <= smooth || (lines && joint.turn > 0)) {
            const double shift = std::tan(joint.turn / 2);
            before.shift_end = -shift;
            after.shift_start = shift;
            joint.before = joint.after = joint.before - in * shift;
        } else {
            joint.kind = joint.turn > 0 ? InsetJoint::Kind::meet : InsetJoint::Kind::open;
        }
        joints_.push_back(joint);
    }
}

std::optional<InsetContour::Meeting> InsetContour::meeting(std::size_t joint, double distance) const {
    const std::size_t count = sides_.size();
    const InsetSide &a = sides_[(joint + count - 1) % count], &b = sides_[joint];
    Meeting now{1, 0, joints_[joint].corner}, last = now;
    constexpr int steps = 8, most = 30;
    for (int step = 1; step <= steps; ++step) {
        const double d = distance * step / steps;
        const Meeting from = now;
        if (step > 1) now = {2 * now.before - last.before, 2 * now.after - last.after, {}};
        last = from;
        double off = 1e300;
        for (int k = 0; k < most; ++k) {
            const Vec2 gap = a.at(now.before, d) - b.at(now.after, d);
            off = length(gap);
            constexpr double good = 1e-12; // mm
            if (off < good) break;
            const Vec2 da = a.derivative(now.before, d), db = b.derivative(now.after, d);
            const double det = cross(da, db);
            if (det == 0) return std::nullopt;
            now.before -= cross(gap, db) / det;
            now.after -= cross(gap, da) / det;
            constexpr double beyond = 0.2;
            if (!(now.before > -beyond && now.before < 1 + beyond && now.after > -beyond && now.after < 1 + beyond))
                return std::nullopt;
        }
        constexpr double enough = 1e-9; // mm, where rounding keeps it from being better
        if (!(off < enough)) return std::nullopt;
        if (now.before < 0 || now.before > 1 || now.after < 0 || now.after > 1) return std::nullopt;
    }
    now.at = a.at(now.before, distance);
    return now;
}

std::optional<InsetContour::Range> InsetContour::range(std::size_t side, double distance) const {
    const std::size_t next = (side + 1) % sides_.size();
    Range range;
    if (joints_[side].kind == InsetJoint::Kind::meet) {
        const auto start = meeting(side, distance);
        if (!start) return std::nullopt;
        range.from = start->after;
    }
    if (joints_[next].kind == InsetJoint::Kind::meet) {
        const auto end = meeting(next, distance);
        if (!end) return std::nullopt;
        range.to = end->before;
    }
    return range;
}

double InsetContour::area(double distance) const {
    constexpr int pieces = 8;
    double twice = 0;
    for (std::size_t i = 0; i < sides_.size(); ++i) {
        const InsetSide& side = sides_[i];
        const Range range = this->range(i, distance).value_or(Range{});
        if (side.is_line()) {
            twice += cross(side.at(range.from, distance), side.at(range.to, distance));
        } else {
            const double size = (range.to - range.from) / pieces;
            for (int piece = 0; piece < pieces; ++piece)
                for (const auto& [at, weight] : gauss_8) {
                    const double t = range.from + size * (piece + (at + 1) / 2);
                    twice += weight / 2 * size * cross(side.at(t, distance), side.derivative(t, distance));
                }
        }
        const InsetJoint& joint = joints_[i];
        if (joint.kind == InsetJoint::Kind::open)
            twice += distance * cross(joint.corner, joint.after - joint.before) + distance * distance * joint.turn;
    }
    return twice / 2;
}

std::optional<std::vector<Vec2>> InsetContour::places(std::size_t which, double distance) const {
    const InsetSide& side = sides_[which];
    const InsetJoint& joint = joints_[which];
    const auto range = this->range(which, distance);
    constexpr double least = 1e-3; // of the side
    if (!range || range->to - range->from < least) return std::nullopt;
    std::vector<Vec2> out;
    const double size = length(side.curve.end() - side.curve.start());
    const int parts = std::clamp(static_cast<int>(std::ceil(size / (2 * distance))), side.is_line() ? 2 : 10, 40);
    for (int k = 0; k <= parts; ++k) {
        const double t = range->from + (range->to - range->from) * k / parts;
        if (side.speed(t, distance) <= least * length(derivative_at(side.curve, t))) return std::nullopt;
        out.push_back(side.at(t, distance));
    }
    if (joint.kind == InsetJoint::Kind::open) {
        const Vec2 middle = joint.before + joint.after;
        if (const double half = length(middle); half > 0) out.push_back(joint.corner + middle * (distance / half));
    }
    return out;
}

InsetRegion::InsetRegion(const Region& region) {
    contours.emplace_back(region.outer);
    for (const Contour& hole : region.holes)
        contours.emplace_back(hole);
}

double InsetRegion::area(double distance) const {
    double sum = 0;
    for (const InsetContour& contour : contours)
        sum += contour.area(distance);
    return sum;
}

namespace {

/// The edges of a region's polygons, to see what comes near them.
class Edges {
public:
    explicit Edges(const Region& region) : ends_(ends_of(region)), tree_(boxes_of(ends_)) {}

    [[nodiscard]] bool any_nearer(Vec2 p, double bound) const {
        bool found = false;
        tree_.query({p - Vec2{bound, bound}, p + Vec2{bound, bound}}, [&](std::uint32_t i) {
            const auto& [a, b] = ends_[i];
            found = found || distance(nearest_on(a, b, p), p) < bound;
        });
        return found;
    }

private:
    using Ends = std::vector<std::pair<Vec2, Vec2>>;
    static Ends ends_of(const Region& region) {
        Ends ends;
        const auto add = [&](const Contour& contour) {
            const Polygon polygon = flattened(contour, flat);
            for (std::size_t i = 0; i < polygon.size(); ++i)
                ends.emplace_back(polygon[i], polygon[(i + 1) % polygon.size()]);
        };
        add(region.outer);
        for (const Contour& hole : region.holes)
            add(hole);
        return ends;
    }
    static std::vector<Box2> boxes_of(const Ends& ends) {
        std::vector<Box2> boxes;
        for (const auto& [a, b] : ends) {
            Box2& box = boxes.emplace_back();
            box.add(a);
            box.add(b);
        }
        return boxes;
    }

    Ends ends_;
    BoxTree tree_;
};

} // namespace

std::optional<Vec2> inset_fault(const Region& region, const InsetRegion& inset, double distance) {
    constexpr double room = 5e-3; // mm, half of the width that is to be left
    const double far = distance + room;
    const Edges edges(region);
    // The polygons lie inside the curves' bends by as much, and all but smooth joints a little nearer than they should.
    const double bound = far * (1 - 1e-4) - 2 * flat;
    for (const InsetContour& contour : inset.contours)
        if (const auto at = contour.fault(far, [&](Vec2 p) { return edges.any_nearer(p, bound); })) return at;
    return std::nullopt;
}

} // namespace touchmark::geometry
