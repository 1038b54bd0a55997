// SPDX-License-Identifier: MIT
#pragma once

#include "core/content/letter_measure.h"
#include "core/content/variables.h"

#include <functional>

namespace touchmark::content {

/// What a mark with variables is judged by besides its first unit.
enum class Worst {
    first_unit,
    widest,
    tallest,
    thinnest, ///< holds the letter with the thinnest stroke
    tightest, ///< holds the tightest counter, or the letters that stand closest
    lacking,  ///< holds a letter that the face lacks
    longest,  ///< of a code: needs the largest symbol, or none is large enough
    broken,   ///< cannot be made at all: an empty cell
};

/// Values somewhere in the range of a content's variables.
struct WorstCase {
    Worst what = Worst::first_unit;
    std::size_t row = 0; ///< of the table
    Values instead{};    ///< of the unit's own values
    std::string said{};  ///< "serial 0888": which values differ from the first unit's, for people
};

/// How the lettering of a content measures.
struct Measures {
    std::function<LetterMeasure(char32_t)> letter; ///< asked for each letter at most once
    std::function<double(const std::string& line)>
        width; ///< asked for the few widest lines of many, to tell them apart
};

/// The first unit, then each worst case that says something else than it and those before. Variables are taken to vary
/// each by itself, the columns of the table row by row; a check digit may be anything that its scheme gives. Of serial
/// numbers digit by digit, of rows and days each that is different. What cannot be expanded for the first unit has no
/// other case. REQUIRES: first.index is 0.
[[nodiscard]] std::vector<WorstCase> worst_cases(const Content& content, const Variables& variables, const Unit& first,
                                                 const Measures& measures);
/// What a code's readable line is set in, and lettering itself: what worst_cases() wants measured; nullopt: no letters.
[[nodiscard]] std::optional<Text> lettering_of(const Content& content);
/// "The widest is serial 0888." Empty for the first unit.
[[nodiscard]] std::string sentence(const WorstCase& worst);
/// The content in that case.
[[nodiscard]] Result<Content> expanded(const Content& content, const Variables& variables, const Unit& first,
                                       const WorstCase& worst);

} // namespace touchmark::content
