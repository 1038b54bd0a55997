// SPDX-License-Identifier: MIT
#include "core/content/code.h"

#include <cstddef>
#include <cstdint>

/// Anything at all as the message of a code; the first byte chooses the symbology.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using touchmark::content::Symbology;
    if (size == 0) return 0;
    constexpr Symbology symbologies[] = {Symbology::gs1_128, Symbology::gs1_data_matrix, Symbology::gs1_qr,
                                         Symbology::code_128};
    touchmark::content::Code code;
    code.symbology = symbologies[data[0] % 4];
    code.message.assign(reinterpret_cast<const char*>(data) + 1, size - 1);
    const auto symbol = touchmark::content::encode(code);
    if (!symbol && symbol.error().code.empty()) __builtin_trap();
    return 0;
}
