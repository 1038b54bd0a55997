// SPDX-License-Identifier: MIT
#pragma once

#include "core/part/reader.h"

namespace touchmark::test {

/// Called once by main().
void start_reader();
[[nodiscard]] part::Reader& reader();
/// Reads a part that must open; throws std::runtime_error with the error's message otherwise.
[[nodiscard]] part::PartPtr read_part(const std::filesystem::path& file);

} // namespace touchmark::test
