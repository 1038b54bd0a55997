// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/words.h"
#include "core/content/symbology.h"
#include "core/process/process.h"

#include <string>
#include <string_view>
#include <vector>

namespace touchmark::fitting {

/// What is looked at on an item of the test strip.
enum class Kind {
    stroke, ///< a straight bar
    gap,    ///< what is open between two raised bars
    text,   ///< two letters
    code,   ///< a machine-readable code, by a reader
    step,   ///< of the wedge, against a light
};

/// A row of items alike but for their size, the smallest first.
struct Series {
    char letter = 'A';
    Kind kind{};
    Mode mode{};
    Zone zone{};
    content::Symbology symbology{}; ///< of codes
    std::string_view what;          ///< "stroke cut into the side wall"
};

/// One thing on the test strip that a person can name and look at.
struct Item {
    std::string name; ///< as it stands on the strip, "A3"; of the wedge the thickness stands there
    Kind kind{};
    Mode mode{};
    Zone zone{};
    content::Symbology symbology{};
    /// mm: width of the stroke or gap, cap height, module, thickness of the step.
    double size_mm = 0;

    friend bool operator==(const Item&, const Item&) = default;
};

/// What the strip has: strokes, gaps, text and codes on the side wall, on top and on the bottom, and the wedge. Sizes
/// go with the line's width, thicknesses are whole layers. REQUIRES: figures for printing.
[[nodiscard]] std::span<const Series> all_series();
[[nodiscard]] std::vector<Item> items_of(const process::Process& process);
/// The series that a letter names; REQUIRES: there is one.
[[nodiscard]] const Series& series_of(const Item& item);

/// How deep the strip's marks are cut, and how high they are raised: whole layers, a little over a line's width.
[[nodiscard]] double relief_mm(const process::Process& process, Zone zone);
/// Of hidden codes: what covers them and how high their void is, whole layers.
[[nodiscard]] double cover_mm(const process::Process& process);
[[nodiscard]] double void_mm(const process::Process& process);
/// Length of a stroke and of the bars beside a gap, and the width of those bars.
[[nodiscard]] double bar_length_mm(const process::Process& process);
[[nodiscard]] double bar_width_mm(const process::Process& process);
/// So many layers, the first on the plate included.
[[nodiscard]] double layers_mm(const process::Process& process, int layers);

/// "0.42": no more than two decimals, none that say nothing.
[[nodiscard]] std::string short_number(double value);
/// With that many decimals, always: "0.40".
[[nodiscard]] std::string fixed_number(double value, int decimals);

} // namespace touchmark::fitting
