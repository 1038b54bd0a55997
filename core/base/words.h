// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <optional>
#include <string_view>

namespace touchmark {

/// How a mark is made: cut in, raised, a closed void under the face, a pocket filled flush by bodies of its own, or cut
/// through to the far side.
enum class Mode { engrave, raise, hidden, inlay, through };
inline constexpr std::array modes{Mode::engrave, Mode::raise, Mode::hidden, Mode::inlay, Mode::through};
/// Whether the mode takes material away from the surface down.
[[nodiscard]] constexpr bool cuts_in(Mode mode) {
    return mode == Mode::engrave || mode == Mode::inlay || mode == Mode::through;
}

/// How a flat outline is laid on a face that cannot be rolled out: by lengths along the surface, or straight down along
/// the normal at the anchor.
enum class Laying { wrap, project };

/// What ends a mark on a curved face: a surface parallel to the face, or a plane square to the anchor's normal that is
/// nowhere nearer to the face than the mark's depth.
enum class Floor { offset, flat };

/// What the plate makes of a surface point.
enum class Zone { bottom, overhang, side_wall, slope, top };
inline constexpr std::array zones{Zone::bottom, Zone::overhang, Zone::side_wall, Zone::slope, Zone::top};

/// "engrave", "side_wall" …: the spelling in files and on the command line.
[[nodiscard]] std::string_view key_of(Mode mode);
[[nodiscard]] std::string_view key_of(Zone zone);
[[nodiscard]] std::string_view key_of(Laying laying);
[[nodiscard]] std::string_view key_of(Floor floor);
/// "Engrave", "Side wall" …: the spelling a person sees.
[[nodiscard]] std::string_view title_of(Mode mode);
[[nodiscard]] std::string_view title_of(Zone zone);
[[nodiscard]] std::optional<Mode> mode_from(std::string_view key);
[[nodiscard]] std::optional<Zone> zone_from(std::string_view key);
[[nodiscard]] std::optional<Laying> laying_from(std::string_view key);
[[nodiscard]] std::optional<Floor> floor_from(std::string_view key);

} // namespace touchmark
