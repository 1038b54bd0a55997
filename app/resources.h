// SPDX-License-Identifier: MIT
#pragma once

#include <filesystem>

namespace touchmark {

/// The folder with processes/, demo/ and icons/: TOUCHMARK_RESOURCES of the environment, else ../share/touchmark beside
/// the program, else the source tree it was built from.
[[nodiscard]] std::filesystem::path resources_folder();

} // namespace touchmark
