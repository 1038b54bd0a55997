// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <optional>
#include <string_view>

namespace touchmark {

/// How a mark is made. Later modes (hidden, inlay, through) take their place here.
enum class Mode { engrave, raise };
inline constexpr std::array modes{Mode::engrave, Mode::raise};

/// What the plate makes of a surface point.
enum class Zone { bottom, overhang, side_wall, slope, top };
inline constexpr std::array zones{Zone::bottom, Zone::overhang, Zone::side_wall, Zone::slope, Zone::top};

/// "engrave", "side_wall" …: the spelling in files and on the command line.
[[nodiscard]] std::string_view key_of(Mode mode);
[[nodiscard]] std::string_view key_of(Zone zone);
/// "Engrave", "Side wall" …: the spelling a person sees.
[[nodiscard]] std::string_view title_of(Mode mode);
[[nodiscard]] std::string_view title_of(Zone zone);
[[nodiscard]] std::optional<Mode> mode_from(std::string_view key);
[[nodiscard]] std::optional<Zone> zone_from(std::string_view key);

} // namespace touchmark
