// SPDX-License-Identifier: MIT
#pragma once

#include <filesystem>

namespace touchmark {

/// The folder with processes/, demo/ and icons/: TOUCHMARK_RESOURCES of the environment, else ../share/touchmark beside
/// the program, else the source tree it was built from.
[[nodiscard]] std::filesystem::path resources_folder();

/// Where a user's own process profiles lie: touchmark/processes in XDG_DATA_HOME of the environment, else in
/// ~/.local/share (XDG Base Directory Specification; a path that is not absolute counts for nothing there). Need not
/// exist. Empty when there is no home either.
[[nodiscard]] std::filesystem::path own_processes_folder();

} // namespace touchmark
