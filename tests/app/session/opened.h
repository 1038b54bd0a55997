// SPDX-License-Identifier: MIT
#pragma once

#include "app/session/session.h"

namespace touchmark::test {

/// What every session of these tests stands on: the machine's fonts, the shipped processes, the shared reader.
[[nodiscard]] session::Session::Parts session_parts();
[[nodiscard]] std::filesystem::path demo_part();
/// Opens and waits; false when it failed or took longer than a minute.
[[nodiscard]] bool open_and_wait(session::Session& session, const std::filesystem::path& file);
/// A mark that says this in the middle of the largest flat face that is a side wall.
[[nodiscard]] job::Mark mark_on_side_wall(const session::Session& session, const std::string& words);

} // namespace touchmark::test
