// SPDX-License-Identifier: MIT
#pragma once

#include "core/print/printed_mark.h"

#include <string>
#include <vector>

namespace touchmark::print {

/// What a reader of print makes of lettering as it comes out: a second witness beside the letters' own figures, which
/// need no reader.
struct TextReading {
    Lighting lighting{};              ///< in which most of it was read
    std::string read;                 ///< as the reader gives it, without spaces and line breaks; UTF-8
    std::vector<std::uint8_t> right;  ///< for each piece of the mark whether it was read as itself
    std::vector<std::string> instead; ///< for each piece what was read in its place; empty: nothing, or itself

    [[nodiscard]] std::size_t wrong() const;
};

/// Whether the program `tesseract` (optical character recognition, Debian package tesseract-ocr) is to be found.
[[nodiscard]] bool can_read_text();

/// The mark's pieces in each light that its mode is read by, capitals about 36 pixels high, dark on bright and the
/// other way round, until all is read; the best counts, for a person turns a part to the light. Takes up to some
/// seconds. Errors: "print.no_text_reader" (it is not installed, or fails), "print.no_text" (the mark has no
/// lettering), "cancelled", file errors.
[[nodiscard]] Result<TextReading> read_text(const PrintedMark& mark, const Progress& progress);

/// `read` laid beside `pieces` with the fewest differences (Levenshtein). Spaces and line breaks do not count.
[[nodiscard]] TextReading compared(std::span<const std::string> pieces, std::string_view read,
                                   Lighting lighting = Lighting::diffuse);

} // namespace touchmark::print
