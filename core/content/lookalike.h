// SPDX-License-Identifier: MIT
#pragma once

#include "core/content/content.h"

#include <string>
#include <string_view>
#include <vector>

/// Characters that are taken for each other: 0 and O, 8 and B, 6 and an upturned 9.
namespace touchmark::content {

struct Lookalike {
    char character = 0, other = 0;
    bool upturned = false; ///< the character stood on its head against the other
    /// Diameter of the largest disc in what one has and the other has not, mm: about the width of the feature that
    /// tells them apart. Both stand on the line one above the other, a little broader or narrower counts for nothing;
    /// upturned ones lie centre on centre.
    double distinct = 0;
};

/// What may be taken for the character, letters and figures alike; empty: nothing usually is.
[[nodiscard]] std::string_view taken_for(char character);
/// What the character reads as when stood on its head; nullopt: no character.
[[nodiscard]] std::optional<char> upturned(char character);

/// Of the letters and figures A–Z, a–z, 0–9 in `text` with all that they may be taken for, and with what they read as
/// upside down, in the face of `style` at its cap height; the least distinct first. `style.text` plays no part.
[[nodiscard]] std::vector<Lookalike> lookalikes(const Text& style, std::string_view text, const FontLibrary& fonts);

/// Diameter of the largest disc in what only one of the two covers, mm; within 0.02 mm.
[[nodiscard]] double widest_difference(const geometry::Outline& a, const geometry::Outline& b);

} // namespace touchmark::content
