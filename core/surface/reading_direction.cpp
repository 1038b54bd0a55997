// SPDX-License-Identifier: MIT
#include "core/surface/reading_direction.h"

#include <algorithm>
#include <cmath>

namespace touchmark::surface {
namespace {

/// Faces whose normal is within about 8° of ±Z read with +Y up, so that a little draft does not turn the text.
constexpr double facing_z = 0.99;

/// Components of a direction along "right" and "up" as a person standing before the face sees them.
struct Upright {
    Vec3 right, up;

    explicit Upright(const Vec3& normal) {
        const Vec3 wanted = std::abs(normal.z) > facing_z ? Vec3{0, 1, 0} : Vec3{0, 0, 1};
        up = normalised(wanted - normal * dot(wanted, normal));
        right = cross(up, normal);
    }
};

} // namespace

Vec3 reading_direction(const Frame& frame, std::span<const StraightEdge> edges) {
    const Upright upright(frame.z);
    double longest = 0;
    for (const StraightEdge& edge : edges)
        longest = std::max(longest, edge.length);
    Vec3 best = upright.right;
    double best_up = -2, best_rise = -2;
    for (const StraightEdge& edge : edges) {
        if (edge.length < longest - 1e-5) continue;
        const Vec2 d = edge.direction;
        for (const Vec2 turned : {d, Vec2{-d.y, d.x}, Vec2{-d.x, -d.y}, Vec2{d.y, -d.x}}) {
            const Vec3 x = frame.x * turned.x + frame.y * turned.y;
            const double up = dot(x, upright.right); // equals y · up
            const double rise = dot(x, upright.up);
            if (up < best_up - 1e-7 || (up < best_up + 1e-7 && rise <= best_rise + 1e-7)) continue;
            best = x;
            best_up = up;
            best_rise = rise;
        }
    }
    return normalised(best - frame.z * dot(best, frame.z));
}

} // namespace touchmark::surface
