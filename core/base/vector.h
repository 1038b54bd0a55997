// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace touchmark {

/// A point or direction in the plane of a mark: mm, x along the reading direction, y up.
struct Vec2 {
    double x = 0, y = 0;

    friend constexpr bool operator==(Vec2, Vec2) = default;
    friend constexpr Vec2 operator+(Vec2 a, Vec2 b) { return {a.x + b.x, a.y + b.y}; }
    friend constexpr Vec2 operator-(Vec2 a, Vec2 b) { return {a.x - b.x, a.y - b.y}; }
    friend constexpr Vec2 operator*(Vec2 a, double s) { return {a.x * s, a.y * s}; }
};
constexpr double dot(Vec2 a, Vec2 b) {
    return a.x * b.x + a.y * b.y;
}
constexpr double cross(Vec2 a, Vec2 b) {
    return a.x * b.y - a.y * b.x;
}
inline double length(Vec2 a) {
    return std::hypot(a.x, a.y);
}
inline double distance(Vec2 a, Vec2 b) {
    return length(a - b);
}

/// A point or direction in the part's coordinates, mm.
struct Vec3 {
    double x = 0, y = 0, z = 0;

    friend constexpr bool operator==(Vec3, Vec3) = default;
    friend constexpr Vec3 operator+(Vec3 a, Vec3 b) { return {a.x + b.x, a.y + b.y, a.z + b.z}; }
    friend constexpr Vec3 operator-(Vec3 a, Vec3 b) { return {a.x - b.x, a.y - b.y, a.z - b.z}; }
    friend constexpr Vec3 operator-(Vec3 a) { return {-a.x, -a.y, -a.z}; }
    friend constexpr Vec3 operator*(Vec3 a, double s) { return {a.x * s, a.y * s, a.z * s}; }
};
constexpr double dot(Vec3 a, Vec3 b) {
    return a.x * b.x + a.y * b.y + a.z * b.z;
}
constexpr Vec3 cross(Vec3 a, Vec3 b) {
    return {a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
}
inline double length(Vec3 a) {
    return std::sqrt(dot(a, a));
}
inline double distance(Vec3 a, Vec3 b) {
    return length(a - b);
}
/// REQUIRES: length(a) > 0.
inline Vec3 normalised(Vec3 a) {
    return a * (1.0 / length(a));
}

/// A right-handed orthonormal frame; z = x × y.
struct Frame {
    Vec3 origin;
    Vec3 x{1, 0, 0}, y{0, 1, 0}, z{0, 0, 1};

    friend constexpr bool operator==(const Frame&, const Frame&) = default;
    [[nodiscard]] constexpr Vec3 to_space(Vec2 p) const { return origin + x * p.x + y * p.y; }
    [[nodiscard]] constexpr Vec2 to_plane(Vec3 p) const { return {dot(p - origin, x), dot(p - origin, y)}; }
};

/// An axis-aligned box; empty when low > high.
struct Box2 {
    Vec2 low{std::numeric_limits<double>::infinity(), std::numeric_limits<double>::infinity()};
    Vec2 high{-std::numeric_limits<double>::infinity(), -std::numeric_limits<double>::infinity()};

    friend constexpr bool operator==(Box2, Box2) = default;
    [[nodiscard]] constexpr bool empty() const { return low.x > high.x || low.y > high.y; }
    [[nodiscard]] constexpr double width() const { return empty() ? 0 : high.x - low.x; }
    [[nodiscard]] constexpr double height() const { return empty() ? 0 : high.y - low.y; }
    [[nodiscard]] constexpr Vec2 centre() const { return {(low.x + high.x) / 2, (low.y + high.y) / 2}; }
    constexpr void add(Vec2 p) {
        low = {std::min(low.x, p.x), std::min(low.y, p.y)};
        high = {std::max(high.x, p.x), std::max(high.y, p.y)};
    }
    constexpr void add(const Box2& b) {
        if (!b.empty()) add(b.low), add(b.high);
    }
    /// With a rim of `margin` about it.
    [[nodiscard]] constexpr Box2 widened(double margin) const {
        return {low - Vec2{margin, margin}, high + Vec2{margin, margin}};
    }
    /// From `low` on, counter-clockwise.
    [[nodiscard]] constexpr std::array<Vec2, 4> corners() const {
        return {low, Vec2{high.x, low.y}, high, Vec2{low.x, high.y}};
    }
    [[nodiscard]] constexpr bool meets(const Box2& b) const {
        return low.x <= b.high.x && b.low.x <= high.x && low.y <= b.high.y && b.low.y <= high.y;
    }
};
struct Box3 {
    Vec3 low{std::numeric_limits<double>::infinity(), std::numeric_limits<double>::infinity(),
             std::numeric_limits<double>::infinity()};
    Vec3 high{-std::numeric_limits<double>::infinity(), -std::numeric_limits<double>::infinity(),
              -std::numeric_limits<double>::infinity()};

    friend constexpr bool operator==(Box3, Box3) = default;
    [[nodiscard]] constexpr bool empty() const { return low.x > high.x || low.y > high.y || low.z > high.z; }
    [[nodiscard]] constexpr Vec3 size() const { return empty() ? Vec3{} : high - low; }
    [[nodiscard]] constexpr Vec3 centre() const { return (low + high) * 0.5; }
    constexpr void add(Vec3 p) {
        low = {std::min(low.x, p.x), std::min(low.y, p.y), std::min(low.z, p.z)};
        high = {std::max(high.x, p.x), std::max(high.y, p.y), std::max(high.z, p.z)};
    }
};

} // namespace touchmark
