// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace touchmark::content {

/// Strict UTF-8 (RFC 3629: no surrogates, no overlong forms, nothing above U+10FFFF); nullopt when malformed.
[[nodiscard]] std::optional<std::u32string> decode_utf8(std::string_view text);
[[nodiscard]] std::string encode_utf8(std::u32string_view text);

} // namespace touchmark::content
