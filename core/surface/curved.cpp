// SPDX-License-Identifier: MIT
#include "core/surface/curved.h"

#include "core/part/shape.h"
#include "core/part/vectors.h"
#include "core/surface/boundary.h"
#include "core/surface/chart.h"
#include "core/surface/map_table.h"
#include "core/surface/reading_direction.h"
#include "core/surface/rectangle.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <mutex>

namespace touchmark::surface {
namespace {

using geometry::Polygon;

constexpr double fine = 1e-3; // mm

Result<geometry::Outline> room_from(const std::vector<Polygon>& polygons) {
    std::vector<geometry::Contour> contours;
    for (const Polygon& polygon : polygons)
        contours.push_back(geometry::contour_of(polygon));
    return room_within(std::move(contours));
}

/// Straight lines of the parameter plane, mm where it is centred.
struct Grid {
    Vec2 uv;            ///< of (0, 0)
    Vec2 across, along; ///< d(u, v) / dx and / dy

    [[nodiscard]] Vec2 parameters(Vec2 at) const { return uv + across * at.x + along * at.y; }
    [[nodiscard]] Vec2 at(Vec2 p) const {
        const Vec2 d = p - uv;
        const double det = cross(across, along);
        return {cross(d, along) / det, cross(across, d) / det};
    }
};

/// The tangent plane at some parameters, x along `towards` as seen in it.
Frame tangent_frame(const SurfaceEvaluator::First& at, const Vec3& normal, const Vec3& towards) {
    return part::frame_from(at.point, normal, towards);
}

/// d(u, v) along a direction of the tangent plane.
Vec2 components(const SurfaceEvaluator::First& at, const Vec3& way) {
    const double e = dot(at.du, at.du), f = dot(at.du, at.dv), g = dot(at.dv, at.dv), det = e * g - f * f;
    const double x = dot(way, at.du), y = dot(way, at.dv);
    return {(g * x - f * y) / det, (e * y - f * x) / det};
}

/// The mark laid about one point.
class LocalMap final : public FaceMap {
public:
    /// `turned`: whole periods from the chart's parameters to those of the face's own map.
    LocalMap(std::shared_ptr<const FaceMap> whole, ChartPtr chart, Vec2 turned, double size)
        : whole_(std::move(whole)), chart_(std::move(chart)), turned_(turned), size_(size) {
        if (const auto laid = chart_->laid(chart_->face().area))
            if (auto room = room_from(*laid)) room_ = std::move(*room);
    }

    [[nodiscard]] int face() const override { return whole_->face(); }
    [[nodiscard]] part::FaceKind kind() const override { return whole_->kind(); }
    [[nodiscard]] Vec3 point(Vec2 at) const override { return place(at).point; }
    [[nodiscard]] Vec3 normal(Vec2 at) const override { return place(at).normal; }
    [[nodiscard]] Vec3 x_direction(Vec2 at) const override {
        const double step = 1e-6 * size_;
        const Vec2 ahead{step, 0};
        const SurfaceEvaluator& surface = evaluator();
        const Vec3 along =
            surface.first(chart_->parameters(at + ahead)).point - surface.first(chart_->parameters(at - ahead)).point;
        const Vec3 normal = surface.place(chart_->parameters(at)).normal;
        const Vec3 flat = along - normal * dot(along, normal);
        return length(flat) > 0 ? normalised(flat) : chart_->anchorage().frame.x;
    }
    [[nodiscard]] Vec2 locate(Vec3 point) const override {
        const Vec2 uv = chart_->face().clamped(whole_parameters(whole_->locate(point)));
        if (const auto at = chart_->at(uv)) return *at;
        return chart_->anchorage().at + chart_->anchorage().frame.to_plane(point);
    }
    [[nodiscard]] const Unrolling* unrolling() const override { return nullptr; }
    [[nodiscard]] const geometry::Outline& room() const override { return room_; }
    [[nodiscard]] Vec2 rectangle() const override {
        std::call_once(measured_, [&] {
            const Box2 box = largest_rectangle(geometry::flattened(room_, fine));
            rectangle_ = {box.width(), box.height()};
        });
        return rectangle_;
    }
    [[nodiscard]] const Chart* chart() const override { return chart_.get(); }
    [[nodiscard]] FaceMapPtr about(Vec2 at, Laying laying) const override { return whole_->about(on_face(at), laying); }
    [[nodiscard]] Vec2 on_face(Vec2 at) const override;
    [[nodiscard]] Vec2 from_face(Vec2 on_face) const override {
        return chart_->at(whole_parameters(on_face)).value_or(on_face);
    }

private:
    [[nodiscard]] Vec2 whole_parameters(Vec2 on_face) const;
    [[nodiscard]] const SurfaceEvaluator& evaluator() const { return evaluator_of(chart_->face()); }
    [[nodiscard]] SurfaceEvaluator::Place place(Vec2 at) const { return evaluator().place(chart_->parameters(at)); }

    std::shared_ptr<const FaceMap> whole_;
    ChartPtr chart_;
    Vec2 turned_;
    double size_;
    geometry::Outline room_;
    mutable std::once_flag measured_;
    mutable Vec2 rectangle_;
};

class CurvedMap final : public FaceMap {
public:
    CurvedMap(int face, part::FaceKind kind, std::shared_ptr<const CurvedFace> shape, const Grid& grid,
              geometry::Outline room, Vec2 rectangle)
        : face_(face), kind_(kind), shape_(std::move(shape)), grid_(grid), room_(std::move(room)),
          rectangle_(rectangle) {}

    [[nodiscard]] int face() const override { return face_; }
    [[nodiscard]] part::FaceKind kind() const override { return kind_; }
    [[nodiscard]] Vec3 point(Vec2 at) const override { return evaluator().place(parameters(at)).point; }
    [[nodiscard]] Vec3 normal(Vec2 at) const override { return evaluator().place(parameters(at)).normal; }
    [[nodiscard]] Vec3 x_direction(Vec2 at) const override { return frame_at(regular(parameters(at))).x; }
    [[nodiscard]] Vec2 locate(Vec3 point) const override;
    [[nodiscard]] const Unrolling* unrolling() const override { return nullptr; }
    [[nodiscard]] const geometry::Outline& room() const override { return room_; }
    [[nodiscard]] Vec2 rectangle() const override { return rectangle_; }
    [[nodiscard]] FaceMapPtr about(Vec2 at, Laying laying) const override {
        Anchorage anchorage{at, regular(parameters(at)), {}, {}, {}};
        anchorage.frame = frame_at(anchorage.uv);
        const auto there = evaluator().first(anchorage.uv);
        anchorage.across = components(there, anchorage.frame.x);
        anchorage.along = components(there, anchorage.frame.y);
        // In the period in which the face's edges are.
        const Vec2 off = anchorage.uv - shape_->domain.centre(), period = shape_->period;
        const auto turned = [](double by, double turn) { return turn > 0 ? turn * std::round(by / turn) : 0.0; };
        const Vec2 turns{turned(off.x, period.x), turned(off.y, period.y)};
        anchorage.uv = anchorage.uv - turns;
        return std::make_shared<const LocalMap>(shared_from_this(), chart_about(shape_, anchorage, laying), turns,
                                                std::max({rectangle_.x, rectangle_.y, 1.0}));
    }
    [[nodiscard]] const Grid& grid() const { return grid_; }

private:
    [[nodiscard]] const SurfaceEvaluator& evaluator() const { return evaluator_of(*shape_); }
    [[nodiscard]] Vec2 parameters(Vec2 at) const { return shape_->clamped(grid_.parameters(at)); }
    /// A little off a pole.
    [[nodiscard]] Vec2 regular(Vec2 uv) const {
        const SurfaceEvaluator& surface = evaluator();
        Vec2 at = uv;
        for (double s = 1e-6; s < 0.6; s *= 4) {
            const auto there = surface.first(at);
            if (length(cross(there.du, there.dv)) > 1e-4 * shape_->scale.x * shape_->scale.y) break;
            at = uv + (shape_->domain.centre() - uv) * s;
        }
        return at;
    }
    [[nodiscard]] Frame frame_at(Vec2 uv) const {
        const auto there = evaluator().first(uv);
        return tangent_frame(there, evaluator().place(uv).normal,
                             there.du * grid_.across.x + there.dv * grid_.across.y);
    }

    int face_;
    part::FaceKind kind_;
    std::shared_ptr<const CurvedFace> shape_;
    Grid grid_;
    geometry::Outline room_;
    Vec2 rectangle_;
};

Vec2 LocalMap::on_face(Vec2 at) const {
    return static_cast<const CurvedMap&>(*whole_).grid().at(chart_->parameters(at) + turned_);
}

Vec2 LocalMap::whole_parameters(Vec2 on_face) const {
    // In the period in which the anchor is.
    Vec2 uv = static_cast<const CurvedMap&>(*whole_).grid().parameters(on_face);
    const Vec2 from = chart_->anchorage().uv, period = chart_->face().period;
    if (period.x > 0) uv.x += period.x * std::round((from.x - uv.x) / period.x);
    if (period.y > 0) uv.y += period.y * std::round((from.y - uv.y) / period.y);
    return uv;
}

/// The foot of the perpendicular by Newton from the nearest of some places. Good enough everywhere on a face that
/// bends less than its grid shows.
Vec2 CurvedMap::locate(Vec3 wanted) const {
    const SurfaceEvaluator& surface = evaluator();
    constexpr int many = 16;
    Vec2 best = shape_->domain.centre();
    double least = 1e300;
    for (int i = 0; i <= many; ++i)
        for (int j = 0; j <= many; ++j) {
            const Vec2 uv{shape_->domain.low.x + shape_->domain.width() * i / many,
                          shape_->domain.low.y + shape_->domain.height() * j / many};
            const double off = distance(surface.first(uv).point, wanted);
            if (off < least) least = off, best = uv;
        }
    for (int i = 0; i < 40; ++i) {
        const auto at = surface.second(best);
        const Vec3 off = wanted - at.point;
        const double e = dot(at.du, at.du), f = dot(at.du, at.dv), g = dot(at.dv, at.dv);
        // Newton's matrix where it is positive, else Gauss's, which always is.
        double a = e - dot(off, at.duu), b = f - dot(off, at.duv), c = g - dot(off, at.dvv);
        if (!(a > 0) || !(a * c - b * b > 1e-3 * a * c)) a = e, b = f, c = g;
        const double det = a * c - b * b, x = dot(off, at.du), y = dot(off, at.dv);
        if (!(det > 0)) break;
        const Vec2 next = shape_->clamped(best + Vec2{(c * x - b * y) / det, (a * y - b * x) / det});
        const Vec2 move = next - best;
        best = next;
        if (std::hypot(move.x * shape_->scale.x, move.y * shape_->scale.y) < 1e-9) break;
    }
    if (shape_->period.x > 0) best.x += shape_->period.x * std::round((grid_.uv.x - best.x) / shape_->period.x);
    if (shape_->period.y > 0) best.y += shape_->period.y * std::round((grid_.uv.y - best.y) / shape_->period.y);
    return grid_.at(best);
}

/// Where a face that runs right round looks most towards −Y, failing that +Z, then +X.
Vec2 front_of(const CurvedFace& face) {
    const SurfaceEvaluator surface(face, face.placing);
    const Vec2 middle = face.domain.centre();
    Vec2 best = middle;
    const bool round_u = face.period.x > 0 && face.domain.width() > face.period.x * (1 - 1e-6);
    const bool round_v = face.period.y > 0 && face.domain.height() > face.period.y * (1 - 1e-6);
    if (!round_u && !round_v) return best;
    constexpr int many = 72;
    double most = -2;
    for (int i = 0; i < (round_u ? many : 1); ++i)
        for (int j = 0; j < (round_v ? many : 1); ++j) {
            const Vec2 uv{middle.x + face.period.x * i / many, middle.y + face.period.y * j / many};
            const Vec3 n = surface.place(uv).normal;
            const double score = -n.y + 1e-3 * n.z + 1e-6 * n.x;
            if (score > most + 1e-9) most = score, best = uv;
        }
    return best;
}

Result<Grid> grid_of(const CurvedFace& face) {
    const SurfaceEvaluator surface(face, face.placing);
    Vec2 uv = front_of(face);
    for (const double s : {0.5, 0.41, 0.59, 0.3, 0.7}) {
        const auto at = surface.first(uv);
        const Vec3 normal = surface.normal(at.du, at.dv);
        if (normal != Vec3{}) {
            const Frame frame = part::frame_from(at.point, normal, at.du);
            const StraightEdge along_u{{1, 0}, 1};
            const Vec3 x = reading_direction(frame, std::span(&along_u, 1));
            return Grid{uv, components(at, x), components(at, cross(normal, x))};
        }
        uv = {face.domain.low.x + face.domain.width() * s, face.domain.low.y + face.domain.height() * (1 - s * 0.9)};
    }
    return fail("surface.degenerate", "The face's surface is collapsed.", "Choose another face.");
}

/// The face's area within half a period of the grid's centre.
std::vector<Polygon> once_round(const CurvedFace& face, const Grid& grid, const geometry::Outline& room) {
    Box2 window{grid.uv, grid.uv};
    for (const Polygon& loop : face.area)
        for (const Vec2 p : loop)
            window.add(p);
    if (face.period.x > 0) window.low.x = grid.uv.x - face.period.x / 2, window.high.x = grid.uv.x + face.period.x / 2;
    if (face.period.y > 0) window.low.y = grid.uv.y - face.period.y / 2, window.high.y = grid.uv.y + face.period.y / 2;
    Polygon corners;
    for (const Vec2 uv : window.corners())
        corners.push_back(grid.at(uv));
    if (geometry::area(corners) < 0) std::ranges::reverse(corners);
    return geometry::flattened(geometry::intersection(room, {{{geometry::contour_of(corners), {}}}}, fine), fine);
}

} // namespace

Result<FaceMapPtr> map_curved(const part::Part& part, const part::Face& face) {
    auto shape =
        curved_face(part::face_shape(part, face.index), part::occurrence(part, face.body).location.Transformation());
    if (!shape) return std::unexpected(shape.error());
    auto grid = grid_of(*shape);
    if (!grid) return std::unexpected(grid.error());
    std::vector<Polygon> loops;
    for (const Polygon& loop : shape->area) {
        Polygon& flat = loops.emplace_back();
        for (const Vec2 uv : loop)
            flat.push_back(grid->at(uv));
    }
    const Result<geometry::Outline> room = room_from(loops);
    if (!room) return std::unexpected(room.error());
    const bool round = shape->period.x > 0 || shape->period.y > 0;
    const Box2 box = largest_rectangle(round ? once_round(*shape, *grid, *room) : geometry::flattened(*room, fine));
    if (box.empty()) return fail("surface.degenerate", "The face is too thin to carry a mark.", "Choose another face.");
    grid->uv = grid->parameters(box.centre());
    return std::make_shared<const CurvedMap>(
        face.index, face.kind, std::make_shared<const CurvedFace>(std::move(*shape)), *grid,
        geometry::transformed(*room, geometry::Affine::translation(box.centre() * -1)),
        Vec2{box.width(), box.height()});
}

} // namespace touchmark::surface
