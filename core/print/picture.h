// SPDX-License-Identifier: MIT
#pragma once

#include "core/print/simulate.h"

#include <array>
#include <cstdint>

namespace touchmark::print {

/// Eight bits a channel, row 0 at the top, in the mark's own frame: its x to the right.
struct Picture {
    int width = 0, height = 0;
    std::vector<std::array<std::uint8_t, 3>> pixels;

    [[nodiscard]] std::array<std::uint8_t, 3> at(int x, int y) const {
        return pixels[static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x)];
    }
};

/// Where the printed mark departs from its plan by half the depth.
inline constexpr std::array<std::uint8_t, 3> lost_colour{213, 94, 0};   ///< planned, but not there
inline constexpr std::array<std::uint8_t, 3> fused_colour{0, 114, 178}; ///< there, but not planned

/// Where a print departs from its plan, places in the printed grid's frame.
class Departures {
public:
    /// REQUIRES: `printed` outlives it.
    explicit Departures(const Printed& printed, Mode mode);
    /// Planned, but neither there nor beside what came out: an edge that is only rounded does not count. What came out
    /// is so deep as fidelity_of() asks for.
    [[nodiscard]] bool lost(Vec2 at) const;
    /// There, but not planned, a hair deeper into it than an edge that is only rounded.
    [[nodiscard]] bool fused(Vec2 at) const;

private:
    const Printed& printed_;
    Field to_what_came_out_; ///< mm
};

struct Light {
    Degrees from{120};     ///< counter-clockwise from the mark's x
    Degrees elevation{30}; ///< over the face: low, as one turns a part to read it
};

/// The relief in one colour under a grazing light (Lambert), what is lost and what has fused in two colours that the
/// colour-blind tell apart (M. Okabe and K. Ito, "Color Universal Design", 2008). A hidden mark as brightness against a
/// light: the void's share of `attenuation` alone, the brightest white.
[[nodiscard]] Picture picture_of(const Printed& printed, Mode mode, const process::Printing& figures,
                                 double pixels_a_mm, bool mark_departures, const Light& light = {});

} // namespace touchmark::print
