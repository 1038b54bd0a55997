// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace touchmark::content {

/// Strict UTF-8 (RFC 3629: no surrogates, no overlong forms, nothing above U+10FFFF); nullopt when malformed.
[[nodiscard]] std::optional<std::u32string> decode_utf8(std::string_view text);
[[nodiscard]] std::string encode_utf8(std::u32string_view text);
/// A file's bytes: UTF-8 without its mark, UTF-16 when it says so, else taken as Latin-1.
[[nodiscard]] std::string utf8_from(std::string bytes);

} // namespace touchmark::content
