// SPDX-License-Identifier: MIT
#pragma once

// Between our vectors and OpenCASCADE's.

#include "core/base/vector.h"

#include <gp_Ax3.hxx>
#include <gp_Dir.hxx>
#include <gp_Pnt.hxx>
#include <gp_Trsf.hxx>
#include <gp_Vec.hxx>

#include <cmath>

namespace touchmark::part {

[[nodiscard]] inline Vec3 vec(const gp_Pnt& p) {
    return {p.X(), p.Y(), p.Z()};
}
[[nodiscard]] inline Vec3 vec(const gp_Vec& v) {
    return {v.X(), v.Y(), v.Z()};
}
[[nodiscard]] inline Vec3 vec(const gp_Dir& d) {
    return {d.X(), d.Y(), d.Z()};
}
[[nodiscard]] inline gp_Pnt point(const Vec3& v) {
    return {v.x, v.y, v.z};
}
[[nodiscard]] inline gp_Vec vector(const Vec3& v) {
    return {v.x, v.y, v.z};
}
/// REQUIRES: length(v) > 0.
[[nodiscard]] inline gp_Dir direction(const Vec3& v) {
    return {v.x, v.y, v.z};
}
/// REQUIRES: an orthonormal frame.
[[nodiscard]] inline gp_Ax3 axes(const Frame& frame) {
    return {point(frame.origin), direction(frame.z), direction(frame.x)};
}

/// Right-handed, z along `z`, x as near to `x` as can be. REQUIRES: length(z) > 0; an x along z is replaced.
[[nodiscard]] inline Frame frame_from(const Vec3& origin, const Vec3& z, const Vec3& x) {
    Frame frame;
    frame.origin = origin;
    frame.z = normalised(z);
    Vec3 across = x - frame.z * dot(x, frame.z);
    if (length(across) <= 1e-9 * length(x)) {
        const Vec3 other = std::abs(frame.z.x) < 0.9 ? Vec3{1, 0, 0} : Vec3{0, 1, 0};
        across = other - frame.z * dot(other, frame.z);
    }
    frame.x = normalised(across);
    frame.y = cross(frame.z, frame.x);
    return frame;
}

/// Right-handed whatever the axes' handedness.
[[nodiscard]] inline Frame frame_of(const gp_Ax3& axes) {
    return frame_from(vec(axes.Location()), vec(axes.Direction()), vec(axes.XDirection()));
}

/// The frame carried along; stays right-handed under a mirroring, whose z then is still the image of z.
[[nodiscard]] inline Frame transformed(const Frame& frame, const gp_Trsf& by) {
    return frame_from(vec(point(frame.origin).Transformed(by)), vec(vector(frame.z).Transformed(by)),
                      vec(vector(frame.x).Transformed(by)));
}

} // namespace touchmark::part
