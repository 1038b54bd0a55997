// SPDX-License-Identifier: MIT
#include "core/surface/round.h"

#include "core/part/shape.h"
#include "core/surface/map_table.h"
#include "core/surface/one_surface.h"
#include "core/surface/reading_direction.h"
#include "core/surface/rectangle.h"
#include "core/surface/round_face.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace touchmark::surface {
namespace {

constexpr double turn = 2 * std::numbers::pi;
constexpr double fine = 5e-4; // mm

class RoundMap final : public FaceMap {
public:
    RoundMap(std::vector<int> faces, part::FaceKind kind, const Unrolling& unrolling, geometry::Outline room,
             Vec2 rectangle)
        : faces_(std::move(faces)), kind_(kind), unrolling_(unrolling), room_(std::move(room)), rectangle_(rectangle) {}

    [[nodiscard]] int face() const override { return faces_[0]; }
    [[nodiscard]] std::vector<int> faces() const override { return faces_; }
    [[nodiscard]] part::FaceKind kind() const override { return kind_; }
    [[nodiscard]] Vec3 point(Vec2 at) const override { return unrolling_.point(unrolling_.parameters(at)); }
    [[nodiscard]] Vec3 normal(Vec2 at) const override { return unrolling_.normal(unrolling_.parameters(at).x); }
    [[nodiscard]] Vec3 x_direction(Vec2 at) const override { return unrolling_.x_direction(at); }
    [[nodiscard]] Vec2 locate(Vec3 point) const override { return unrolling_.at(unrolling_.parameters_near(point)); }
    [[nodiscard]] const Unrolling* unrolling() const override { return &unrolling_; }
    [[nodiscard]] const geometry::Outline& room() const override { return room_; }
    [[nodiscard]] Vec2 rectangle() const override { return rectangle_; }

private:
    std::vector<int> faces_;
    part::FaceKind kind_;
    Unrolling unrolling_;
    geometry::Outline room_;
    Vec2 rectangle_;
};

/// The angle at which the face looks most towards −Y, or where that is along its axis, towards +Z.
double front_of(const Unrolling& s) {
    for (const Vec3 wanted : std::array{Vec3{0, -1, 0}, Vec3{0, 0, 1}}) {
        const double x = dot(wanted, s.x) * s.outward, y = dot(wanted, s.y) * s.outward;
        if (std::hypot(x, y) > 0.1) return std::atan2(y, x);
    }
    return 0;
}

/// Turns the mark's plane so that it reads upright at the centre; right-handed seen from outside.
void set_upright(Unrolling& s) {
    const double u = s.centre.x;
    const Vec3 normal = s.normal(u), straight = s.straight_direction(u), round = s.round_direction(u);
    Frame frame{s.point(s.centre), cross(straight, normal), straight, normal};
    const StraightEdge generator{{0, 1}, 1};
    const Vec3 x = reading_direction(frame, std::span(&generator, 1)), y = cross(normal, x);
    // The directions are parallel to the axes or square to them: rounding is taken out.
    const auto whole = [](double d) { return std::round(d); };
    s.across = {whole(dot(round, x)), whole(dot(round, y))};
    s.along = {whole(dot(straight, x)), whole(dot(straight, y))};
}

Vec2 middle_of(const RoundBoundary& boundary) {
    Box2 box;
    for (const auto& line : boundary.turns)
        box.add(bounds_of(line));
    if (boundary.turns.empty())
        for (const auto& line : boundary.loops)
            if (const Box2 own = bounds_of(line); own.width() > box.width()) box.add(own);
    return box.centre();
}

/// Where to look for the largest rectangle on a face that runs round: one turn about the front, and one from each
/// hole's edge on.
std::vector<Window> windows_of(const RoundBoundary& boundary, double front) {
    constexpr std::size_t most = 9;
    std::vector<Window> windows{{front - turn / 2, front + turn / 2}};
    for (const auto& loop : boundary.loops) {
        if (windows.size() == most) break;
        double edge = bounds_of(loop).high.x;
        edge += turn * std::round((front - edge) / turn);
        windows.push_back({edge, edge + turn});
    }
    return windows;
}

Result<Box2> largest_in(const RoundBoundary& boundary, const Unrolling& unrolling, const Window& window) {
    const auto room = room_of(boundary, unrolling, window);
    if (!room) return std::unexpected(room.error());
    return largest_rectangle(geometry::flattened(*room, fine));
}

/// Of several faces as one, about the middle of one of them; nullopt where their common boundary cannot be followed.
std::optional<geometry::Outline> common_room(const std::vector<TopoDS_Face>& faces, const gp_Trsf& placing,
                                             Unrolling& unrolling) {
    auto boundary = round_boundary(faces, placing, unrolling, fine);
    if (!boundary) return std::nullopt;
    Unrolling whole = unrolling;
    whole.closed = !boundary->turns.empty();
    const Vec2 middle = unrolling.at(unrolling.centre);
    for (const double by : {0.0, turn, -2 * turn}) { // they may have been found a turn away
        for (std::vector<Vec2>& loop : boundary->loops)
            for (Vec2& p : loop)
                p.x += by;
        auto room = room_of(*boundary, whole, whole_window(whole));
        if (!room) return std::nullopt;
        if (!whole.closed && !geometry::contains(*room, middle)) continue;
        unrolling = whole;
        return *std::move(room);
    }
    return std::nullopt;
}

} // namespace

Result<FaceMapPtr> map_round(const part::Part& part, const part::Face& face) {
    const TopoDS_Face& shape = part::face_shape(part, face.index);
    const gp_Trsf placing = part::occurrence(part, face.body).location.Transformation();
    std::optional<Unrolling> found = unrolling_of(shape, placing);
    if (!found) return fail("surface.degenerate", "The face is not what it says it is.", "Choose another face.");
    Unrolling unrolling = *found;
    const auto boundary = round_boundary(shape, placing, unrolling, fine);
    if (!boundary) return std::unexpected(boundary.error());
    unrolling.closed = !boundary->turns.empty();
    unrolling.centre = middle_of(*boundary);
    if (boundary->turns.size() == 1) unrolling.centre.y = (unrolling.centre.y + unrolling.apex()) / 2;
    const double front = front_of(unrolling);
    if (unrolling.closed) unrolling.centre.x = front;
    set_upright(unrolling);

    Box2 best;
    double best_area = -1;
    for (const Window& window : unrolling.closed ? windows_of(*boundary, front) : std::vector<Window>{{}}) {
        Unrolling about = unrolling;
        if (unrolling.closed) about.centre.x = (window.low + window.high) / 2, set_upright(about);
        const Result<Box2> rectangle = largest_in(*boundary, about, window);
        if (!rectangle) return std::unexpected(rectangle.error());
        // A little more is not worth turning away from the front.
        const double area = rectangle->width() * rectangle->height();
        if (area < best_area * 1.01 || area <= best_area) continue;
        best = *rectangle;
        best_area = area;
        unrolling = about;
    }
    unrolling.shift = best.centre() * -1;
    std::vector<int> faces = faces_of_one_surface(part, face);
    std::optional<geometry::Outline> common;
    if (faces.size() > 1) common = common_room(shapes_of(part, faces), placing, unrolling);
    if (!common) faces = {face.index};
    Result<geometry::Outline> room =
        common ? *std::move(common) : room_of(*boundary, unrolling, whole_window(unrolling));
    if (!room) return std::unexpected(room.error());
    return std::make_shared<const RoundMap>(std::move(faces), face.kind, unrolling, std::move(*room),
                                            Vec2{best.width(), best.height()});
}

} // namespace touchmark::surface
