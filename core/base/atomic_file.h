// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/result.h"

#include <filesystem>
#include <functional>
#include <string>
#include <string_view>

namespace touchmark {

/// Writes `target` so that a kill or a power cut at any moment leaves the old file or the new one, never a mixture:
/// `write` fills a temporary file in the target's folder, `verify` reads it back, then it is flushed to disk and
/// renamed over the target, whose permissions it takes. A symbolic link is followed, not replaced. On failure the
/// temporary file is removed and the target is as it was. Errors: "file.not_writable", "file.rename", and whatever
/// `write` or `verify` return.
[[nodiscard]] Status write_atomically(const std::filesystem::path& target,
                                      const std::function<Status(const std::filesystem::path& temporary)>& write,
                                      const std::function<Status(const std::filesystem::path& temporary)>& verify = {});

/// The same for a text held in memory; verified byte by byte.
[[nodiscard]] Status write_text_atomically(const std::filesystem::path& target, std::string_view text);

/// Errors: "file.not_found", "file.not_readable", "file.too_large".
[[nodiscard]] Result<std::string> read_text(const std::filesystem::path& path, std::size_t largest = 64u << 20);

} // namespace touchmark
