// SPDX-License-Identifier: MIT
#pragma once

#include "core/print/picture.h"

#include <filesystem>

namespace touchmark::viewport {

/// As PNG. Errors: "file.not_writable".
[[nodiscard]] Status save_picture(const print::Picture& picture, const std::filesystem::path& file);

} // namespace touchmark::viewport
