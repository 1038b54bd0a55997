// SPDX-License-Identifier: MIT
#pragma once

#include "core/job/parameter.h"

/// What the job file's reader, writer and schema have to agree on.
namespace touchmark::job {

inline constexpr std::string_view format_name = "touchmark job";
inline constexpr int newest_version = 2;
inline constexpr int first_version_with_variables = 2; ///< before it a brace in a text was a brace
inline constexpr std::size_t largest_file = 64u << 20; ///< bytes
inline constexpr std::size_t longest_name = 200;       ///< bytes
inline constexpr std::size_t most_marks = 10'000;
inline constexpr int most_faces = 100'000'000;
inline constexpr int most_ids = 1'000'000'000;
/// A choice of names for people, a number in the file.
inline constexpr const char* weight_key = "weight";
inline constexpr const char* kind_key = "kind"; ///< read first, with the symbology
inline constexpr const char* symbology_key = "symbology";

} // namespace touchmark::job
