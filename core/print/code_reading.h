// SPDX-License-Identifier: MIT
#pragma once

#include "core/content/code.h"
#include "core/print/appearance.h"

#include <optional>
#include <string>
#include <vector>

namespace touchmark::print {

/// What a decoder makes of a code in one light.
struct CodeTry {
    Lighting lighting{};
    int pictures = 0;    ///< from near and far, with more and less of the face about it
    int right = 0;       ///< in how many the exact message was read
    std::string instead; ///< another message, where the decoder gave one

    [[nodiscard]] bool read() const { return right == pictures; } ///< however it is held
};

/// What a decoder makes of a code as it comes out.
struct CodeReading {
    /// Empty where the decoder does not know the symbology (Micro QR).
    std::vector<CodeTry> tries;

    [[nodiscard]] bool looked() const { return !tries.empty(); }
    [[nodiscard]] bool read_in_any() const;
    /// In every light that a reader brings along or a room has; true where nothing was tried.
    [[nodiscard]] bool read_in_even_light() const;
};

/// The message as a decoder reports it: a GS1 string's elements without their brackets. Separators (0x1D) are left out
/// here and in what was decoded before the two are compared: where they stand is the symbology's business.
[[nodiscard]] std::string decoded_form(const content::Code& code);

/// For each lighting that the mode allows pictures at twelve, eleven, eight, six, five and four pixels a module, with a
/// camera's noise, just of the symbol and with a rim of the face, each given to ZXing-C++ as it is and inverted. A code
/// of grooves is held further off, at four, three, 2.4 and two pixels a module through a lens and at four between
/// without, so that a groove cannot be told from the next. `box`: of the symbol with its quiet zone, mark mm; `light`:
/// of a hidden mark, else null. Errors: "cancelled".
[[nodiscard]] Result<CodeReading> read_code(const Printed& printed, Mode mode, const LightThrough* light,
                                            const content::Code& code, const Box2& box, const Progress& progress);

/// What ZXing-C++ makes of a picture: the message without separators; empty where it finds none or a mirrored one.
/// Values from 0 to `white` become grey levels.
[[nodiscard]] std::string decoded(const Brightness& picture, content::Symbology symbology, double white);

} // namespace touchmark::print
