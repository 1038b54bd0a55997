// SPDX-License-Identifier: MIT
#pragma once

#include <filesystem>
#include <string_view>

namespace touchmark::test {

/// A file of the open set: real parts by other people, fetched from Debian and npm packages by
/// tests/support/fetch_open_parts into the folder that the environment variable TOUCHMARK_OPEN_PARTS names. Throws
/// std::runtime_error, which fails the test, when it is not there.
[[nodiscard]] std::filesystem::path open_part(std::string_view name);

} // namespace touchmark::test
