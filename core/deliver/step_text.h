// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>

namespace touchmark::deliver {

/// OpenCASCADE writes names as bare UTF-8; ISO 10303-21 wants characters beyond ASCII as \X2\…\X0\ (\X4\…\X0\ beyond
/// the basic plane). Bytes that are not UTF-8 are kept.
[[nodiscard]] std::string with_encoded_strings(std::string_view step);

} // namespace touchmark::deliver
