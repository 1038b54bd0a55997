// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/result.h"

#include <cstdint>
#include <span>
#include <string>
#include <string_view>

namespace touchmark::part {

enum class Encoding { ascii, utf8, latin1 };

/// What the text of a STEP file says before OpenCASCADE sees it.
struct Prescan {
    std::size_t begin = 0; ///< where "ISO-10303-21" starts: behind a byte-order mark or blanks
    Encoding encoding = Encoding::ascii;
    std::string schema;         ///< "AUTOMOTIVE_DESIGN …", as in FILE_SCHEMA
    std::string unit;           ///< of the first length unit: "mm", "inch", "m" …; empty when none is found
    std::size_t points = 0;     ///< CARTESIAN_POINT entities
    std::size_t solids = 0;     ///< entities of the kinds that describe a solid
    std::uint64_t dangling = 0; ///< an entity that is referred to but not there; 0 when there is none
};

/// One pass over the file's bytes; finds what would make the reader hang, crash or say nothing useful.
/// `name` is the file's, for the messages. Errors: "part.empty", "part.not_step", "part.truncated",
/// "part.bad_geometry".
[[nodiscard]] Result<Prescan> prescan(std::span<const char> bytes, const std::string& name);

} // namespace touchmark::part
