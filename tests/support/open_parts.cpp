// SPDX-License-Identifier: MIT
#include "tests/support/open_parts.h"

#include <cstdlib>
#include <stdexcept>
#include <string>

namespace touchmark::test {

std::filesystem::path open_part(std::string_view name) {
    const char* folder = std::getenv("TOUCHMARK_OPEN_PARTS");
    if (!folder) throw std::runtime_error("TOUCHMARK_OPEN_PARTS is not set: run the tests through ./tests/run");
    std::filesystem::path path = std::filesystem::path(folder) / name;
    if (!std::filesystem::exists(path)) throw std::runtime_error("the open set lacks " + path.string());
    return path;
}

} // namespace touchmark::test
