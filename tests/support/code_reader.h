// SPDX-License-Identifier: MIT
#pragma once

#include "tests/support/outline_raster.h"

#include <string>

namespace touchmark::test {

struct Reading {
    std::string
        text; ///< UTF-8; of GS1 the elements without brackets, 0x1D where one of variable length ends; empty: not read
    std::string format; ///< "QRCode", "DataMatrix", "Code128"
    std::string level;  ///< of error correction
    bool gs1 = false, mirrored = false;
};

/// By ZXing-C++ (Debian package libzxing-dev).
[[nodiscard]] Reading read_code(const Picture& picture);

} // namespace touchmark::test
