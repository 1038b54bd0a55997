// SPDX-License-Identifier: MIT
#pragma once

#include "core/part/part.h"
#include "core/process/process.h"

#include <array>
#include <optional>

namespace touchmark::viewport {

/// Below it a surface is one to avoid, and hatched whatever its colour.
inline constexpr double avoid_below = 0.3;

/// What a suitability looks like on the part: cividis, muted by a grey of the same order of lightness, so that marks
/// keep their contrast on it.
[[nodiscard]] part::Colour colour_of_suitability(double suitability);

/// Colour and hatch of every zone in one mode. A zone that the process does not rate is plain.
struct ZoneLook {
    part::Colour colour;
    bool hatched = false;
};
using ZoneLooks = std::array<ZoneLook, zones.size()>;
[[nodiscard]] ZoneLooks zone_looks(const process::Process& process, std::optional<Mode> mode, part::Colour plain);

} // namespace touchmark::viewport
