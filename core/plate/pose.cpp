// SPDX-License-Identifier: MIT
#include "core/plate/plate.h"

#include <cmath>

namespace touchmark::plate {
namespace {

using Rows = std::array<Vec3, 3>;

/// Exact at quarter turns, where std::sin and std::cos are not: a part turned by 90° keeps its coordinates.
std::pair<double, double> sine_and_cosine(Degrees angle) {
    const double turn = std::remainder(angle.value, 360.0);
    const double quarters = std::round(turn / 90.0);
    const double rest = Degrees(turn - quarters * 90.0).radians();
    const double s = std::sin(rest), c = std::cos(rest);
    switch (((static_cast<int>(quarters) % 4) + 4) % 4) {
    case 0:
        return {s, c};
    case 1:
        return {c, -s};
    case 2:
        return {-s, -c};
    default:
        return {-c, s};
    }
}

Vec3 applied(const Rows& rows, Vec3 v) {
    return {dot(rows[0], v), dot(rows[1], v), dot(rows[2], v)};
}

Rows turned(Degrees turn, const Rows& rows) {
    const auto [s, c] = sine_and_cosine(turn);
    return {rows[0] * c - rows[1] * s, rows[0] * s + rows[1] * c, rows[2]};
}

/// The rotation about x, then about y, that brings `up` to +z. Both angles follow from `up` alone, so a pose is its
/// down direction and a turn, and typed angles are the same thing written differently.
Rows raising(Vec3 up) {
    const double h = std::hypot(up.y, up.z);
    const double sine_x = h > 1e-12 ? up.y / h : 0, cosine_x = h > 1e-12 ? up.z / h : 1;
    const double sine_y = -up.x, cosine_y = h > 1e-12 ? h : 0;
    return {Vec3{cosine_y, sine_y * sine_x, sine_y * cosine_x}, Vec3{0, cosine_x, -sine_x},
            Vec3{-sine_y, cosine_y * sine_x, cosine_y * cosine_x}};
}

Vec3 unit(Vec3 v) {
    const double size = length(v);
    return size > 0 && std::isfinite(size) ? v * (1 / size) : Vec3{0, 0, -1};
}

/// (-180, 180], never -0.
Degrees principal(Degrees angle) {
    const double value = std::remainder(angle.value, 360.0);
    return Degrees(value == -180.0 ? 180.0 : value + 0.0);
}

} // namespace

Placement placement_of(const Pose& pose, const Meshes& meshes) {
    Placement placement;
    placement.rows = turned(pose.turn, raising(-unit(pose.down)));
    Box3 box;
    for (const auto& mesh : meshes)
        if (mesh)
            for (const auto& p : mesh->points)
                box.add(applied(placement.rows, {p[0], p[1], p[2]}));
    if (!box.empty()) placement.shift = {-box.centre().x, -box.centre().y, -box.low.z};
    return placement;
}

double height_of(const Placement& placement, const Meshes& meshes) {
    double height = 0;
    for (const auto& mesh : meshes)
        if (mesh)
            for (const auto& p : mesh->points)
                height = std::max(height, dot(placement.rows[2], {p[0], p[1], p[2]}) + placement.shift.z);
    return height;
}

Zone zone_of(double up, double height, const process::Process& process) {
    constexpr double hair = 0.01;
    const double angle = Degrees::from_radians(std::acos(std::clamp(up, -1.0, 1.0))).value;
    const process::ZoneLimits& limits = process.zones;
    // A limit parts what prints easier from what prints harder; which way that goes turns round at the vertical.
    if (angle < limits.top_up_to.value - hair) return Zone::top;
    if (angle < limits.slope_up_to.value - hair) return Zone::slope;
    if (angle <= limits.side_wall_up_to.value + hair) return Zone::side_wall;
    if (angle >= limits.overhang_up_to.value - hair && height <= process.first_layer_mm.value / 2) return Zone::bottom;
    return Zone::overhang;
}

Zone zone_at(const Placement& placement, Vec3 point, Vec3 normal, const process::Process& process) {
    return zone_of(dot(placement.rows[2], normal), placement(point).z, process);
}

Pose with_down(const Pose& pose, Vec3 normal) {
    return {unit(normal), pose.turn};
}

Pose pose_from_angles(Degrees about_x, Degrees about_y, Degrees about_z) {
    const auto [sx, cx] = sine_and_cosine(about_x);
    const auto [sy, cy] = sine_and_cosine(about_y);
    // Rotation about y after rotation about x.
    const Rows tilt{Vec3{cy, sy * sx, sy * cx}, Vec3{0, cx, -sx}, Vec3{-sy, cy * sx, cy * cx}};
    const Vec3 up = tilt[2];
    // Beyond a quarter turn about y the same down direction is reached with the part turned about the vertical.
    const Rows plain = raising(up);
    const Degrees turn = Degrees::from_radians(std::atan2(dot(tilt[1], plain[0]), dot(tilt[0], plain[0])));
    Pose pose{-up + Vec3{}, principal(about_z + turn)};
    return pose;
}

std::array<Degrees, 3> angles_of(const Pose& pose) {
    const Vec3 up = -unit(pose.down) + Vec3{};
    const double h = std::hypot(up.y, up.z);
    const Degrees x = h > 1e-12 ? Degrees::from_radians(std::atan2(up.y, up.z)) : Degrees(0);
    const Degrees y = Degrees::from_radians(std::atan2(-up.x, h));
    return {principal(x), principal(y), principal(pose.turn)};
}

} // namespace touchmark::plate
