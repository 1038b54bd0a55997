// SPDX-License-Identifier: MIT
#include "core/content/drawing.h"

#include <cstddef>
#include <cstdint>

/// Anything at all as a drawing: an outline or one error, whatever it holds.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const auto read = touchmark::content::read_svg({reinterpret_cast<const char*>(data), size});
    if (!read && read.error().code.empty()) __builtin_trap();
    return 0;
}
