// SPDX-License-Identifier: MIT
#pragma once

#include "core/content/content.h"

#include <array>
#include <limits>

namespace touchmark::content {

/// How one letter of a lettering measures by itself, mm. Good for choosing among texts; those chosen are drawn and
/// measured for themselves, for letters change beside others.
struct LetterMeasure {
    static constexpr double none = std::numeric_limits<double>::infinity();
    static constexpr std::size_t slices = 40; ///< of its height, from half a cap height below the line to 1.5 above

    bool missing = false;            ///< the face lacks it
    double advance = 0;              ///< to the next letter
    double high = -none, low = none; ///< above the line
    double stroke = none;            ///< the thinnest place
    double gap = none;               ///< the tightest counter or notch
    /// Where its strokes begin and end in each slice, from where the letter stands; `none` and -none where there are
    /// none.
    std::array<double, slices> left{}, right{};

    /// From where it stands to its ink, and from its ink to the next letter: both but for one length that is the same
    /// for all letters; 0 without ink.
    [[nodiscard]] double before_ink() const;
    [[nodiscard]] double behind_ink() const;
};

/// In that family and weight, with that spacing; straight.
[[nodiscard]] LetterMeasure measure_letter(const Text& style, char32_t letter, const FontLibrary& fonts);
/// How wide a line of it is really drawn; 0 where it cannot be.
[[nodiscard]] double measure_line(const Text& style, const std::string& line, const FontLibrary& fonts);
/// The gap between two letters beside each other, measured along the line.
[[nodiscard]] double gap_between(const LetterMeasure& a, const LetterMeasure& b);

} // namespace touchmark::content
