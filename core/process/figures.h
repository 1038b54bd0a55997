// SPDX-License-Identifier: MIT
#pragma once

#include "core/process/process.h"

namespace touchmark::process {

/// A figure of a profile is named by a key, its place in the file with dots:
///
///     nozzle   line_width   layer_height   first_layer
///     printing.ROW                          ROW as in Printing::rows(): printing.bead_spread
///     zones.top_up_to … zones.overhang_up_to
///     suitability.MODE.ZONE                 suitability.engrave.side_wall
///     limits.LIMIT.MODE.ZONE.hard           LIMIT as in limit_keys; MODE and ZONE a word or "any", for the entry that
///     limits.LIMIT.MODE.ZONE.comfortable    names none: limits.stroke_width.any.bottom.hard
struct FigureKind {
    std::string unit; ///< "mm"; empty: a plain figure
    double least = 0, most = 0;
};
/// What a key asks for; nothing when no profile can have such a figure.
[[nodiscard]] std::optional<FigureKind> kind_of(std::string_view key);

[[nodiscard]] std::string limit_key(const Limit& limit, std::string_view hard_or_comfortable);

/// The figure of a process under that key. nullptr: the process has none (a limit that it does not give for exactly
/// that mode and zone, the nozzle of a process without one).
[[nodiscard]] const Sourced* figure_of(const Process& process, std::string_view key);
[[nodiscard]] Sourced* figure_of(Process& process, std::string_view key);

/// All of its digits, never in exponent form: "0.42", "0.00001".
[[nodiscard]] std::string figure_text(double value);

/// What a key names, for people: {"Limits", "Width of a stroke", "Engrave, side wall", "will not print below"}.
struct FigureWords {
    std::string group; ///< "Machine", "Simulated print", "Zones", "Suitability", "Limits"
    std::string what;
    std::string where; ///< mode and zone; empty where it applies to all
    std::string sense; ///< of a limit: what happens beyond it
    std::string help;  ///< a sentence, may be empty
};
/// REQUIRES: kind_of(key).
[[nodiscard]] FigureWords words_of(std::string_view key);

/// Every figure that a process has, in the order of the file.
[[nodiscard]] std::vector<std::string> figure_keys(const Process& process);

} // namespace touchmark::process
