// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/units.h"

#include <string>

namespace touchmark::content {

enum class Symbology { data_matrix, qr, micro_qr, code_128, gs1_128, gs1_data_matrix, gs1_qr };

/// Of QR codes: the share of a symbol that may be lost is about 7, 15, 25 and 30 % (ISO/IEC 18004).
enum class CorrectionLevel { low, medium, quartile, high };

/// A machine-readable code; made by libzint, see code.h.
struct Code {
    Symbology symbology = Symbology::data_matrix;
    std::string message; ///< UTF-8; a GS1 element string with its identifiers in brackets
    Mm module{0.8};      ///< the X dimension: width of the narrowest element
    Mm bar_height{8};    ///< of a linear symbol
    /// 0: the smallest that holds the message. QR 1–40, Micro QR 1–4, Data Matrix 1–24 square and 25–30 rectangular.
    int version = 0;
    CorrectionLevel level = CorrectionLevel::medium;
    bool rectangular = false;   ///< the smallest rectangular Data Matrix
    bool light_is_mark = false; ///< the light modules and the quiet zone are cut or raised instead of the dark ones
    Mm lettering{0};            ///< cap height of the readable line beneath; 0: none
    /// Each module of the mark as so many grooves side by side instead of one area: in one colour a narrow groove is
    /// darker than a wide floor of the same depth. 0: filled. Not of linear symbols.
    int grooves = 0;

    friend bool operator==(const Code&, const Code&) = default;
};

/// How wide a groove is, as a share of the distance from one groove to the next; the rib between takes the rest.
inline constexpr double groove_share = 0.5;

} // namespace touchmark::content
