// SPDX-License-Identifier: MIT
#pragma once

#include <compare>
#include <numbers>

namespace touchmark {

/// A length in millimetres. Used where modules meet; inside a module coordinates are plain doubles in mm.
struct Mm {
    double value = 0;

    constexpr Mm() = default;
    constexpr explicit Mm(double millimetres) : value(millimetres) {}
    friend constexpr auto operator<=>(Mm, Mm) = default;
    friend constexpr Mm operator+(Mm a, Mm b) { return Mm(a.value + b.value); }
    friend constexpr Mm operator-(Mm a, Mm b) { return Mm(a.value - b.value); }
    friend constexpr Mm operator-(Mm a) { return Mm(-a.value); }
    friend constexpr Mm operator*(Mm a, double factor) { return Mm(a.value * factor); }
    friend constexpr Mm operator*(double factor, Mm a) { return Mm(a.value * factor); }
    friend constexpr double operator/(Mm a, Mm b) { return a.value / b.value; }
    friend constexpr Mm operator/(Mm a, double divisor) { return Mm(a.value / divisor); }
};

/// A plane angle in degrees, counter-clockwise positive.
struct Degrees {
    double value = 0;

    constexpr Degrees() = default;
    constexpr explicit Degrees(double degrees) : value(degrees) {}
    [[nodiscard]] constexpr double radians() const { return value * std::numbers::pi / 180.0; }
    [[nodiscard]] static constexpr Degrees from_radians(double radians) {
        return Degrees(radians * 180.0 / std::numbers::pi);
    }
    friend constexpr auto operator<=>(Degrees, Degrees) = default;
    friend constexpr Degrees operator+(Degrees a, Degrees b) { return Degrees(a.value + b.value); }
    friend constexpr Degrees operator-(Degrees a, Degrees b) { return Degrees(a.value - b.value); }
};

namespace literals {
constexpr Mm operator""_mm(long double value) {
    return Mm(static_cast<double>(value));
}
constexpr Mm operator""_mm(unsigned long long value) {
    return Mm(static_cast<double>(value));
}
constexpr Degrees operator""_deg(long double value) {
    return Degrees(static_cast<double>(value));
}
constexpr Degrees operator""_deg(unsigned long long value) {
    return Degrees(static_cast<double>(value));
}
} // namespace literals

} // namespace touchmark
