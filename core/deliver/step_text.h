// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>

namespace touchmark::deliver {

/// OpenCASCADE writes names as bare UTF-8 and folds long ones, in the middle of a character if need be. ISO 10303-21
/// wants strings on one line, and characters beyond printable ASCII as \X2\…\X0\, beyond the basic plane as \X4\…\X0\,
/// single bytes as \X\hh. Bytes that are not UTF-8 are taken for Latin-1. Outside of strings nothing changes.
[[nodiscard]] std::string with_encoded_strings(std::string_view step);

} // namespace touchmark::deliver
