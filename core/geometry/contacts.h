// SPDX-License-Identifier: MIT
#pragma once

#include "core/geometry/contour.h"

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

namespace touchmark::geometry {

/// A place where contours cross, touch or come closer than the resolution, to each other or to themselves.
struct Contact {
    std::uint32_t contour_a = 0, contour_b = 0;
    Vec2 at;
    bool crosses = false;
};

/// How far along a contour from a corner its two sides may stay closer than the resolution, in units of the resolution:
/// sides of a corner sharper than 1/1000 rad count as touching.
inline constexpr double corner_reach = 2000;

/// Most crossings that are worked out; more are no lettering but an attack.
inline constexpr std::size_t most_crossings = 60'000;

/// Every contact, found on the curves themselves. `reach` as corner_reach. nullopt when there are more than a bounded
/// effort can list.
[[nodiscard]] std::optional<std::vector<Contact>> contacts(std::span<const Contour> contours, double resolution,
                                                           double reach = corner_reach);

} // namespace touchmark::geometry
