// SPDX-License-Identifier: MIT
#pragma once

#include "core/content/fonts.h"
#include "core/print/fidelity.h"
#include "core/process/process.h"

namespace touchmark::pipeline {

/// How often a quick rule and the simulated print agree on what is bad.
struct Agreement {
    int both = 0, only_rule = 0, only_print = 0, neither = 0;

    void add(bool rule, bool print);
    /// Of what the rule calls bad, the share that is; 1 where it calls nothing bad.
    [[nodiscard]] double precision() const;
    /// Of what is bad, the share that the rule calls so; 1 where nothing is.
    [[nodiscard]] double recall() const;
    Agreement& operator+=(const Agreement& other);
};

/// Letters of one face, height, mode, zone and process.
struct StudyCase {
    std::string process, family;
    int weight = 400;
    double cap_height = 0; ///< mm
    Mode mode{};
    Zone zone{};
    /// Too much of its strokes or gaps below the hard limits to come out, against print::lost_below; or to be read for
    /// sure, against print::reads_from. As the rules stroke_width and gap_width judge.
    Agreement will_not_print, will_not_read;
    double mean_figure = 0; ///< of the letters' fidelity
};

struct StudyOptions {
    std::string letters = "ABEGHKMRSWaegmsw0345689&%";
    std::vector<std::pair<std::string, int>> faces; ///< family and weight
    std::vector<double> heights;                    ///< mm
    std::vector<Mode> modes{Mode::engrave, Mode::raise, Mode::hidden};
    std::vector<Zone> zones{Zone::side_wall, Zone::top, Zone::bottom};
    Mm depth{0.5};
};

/// The rules stroke_width and gap_width, letter by letter, held against the simulated print; processes without figures
/// for printing are passed over. Errors: those of draw(), "cancelled".
[[nodiscard]] Result<std::vector<StudyCase>> study(const StudyOptions& options, const content::FontLibrary& fonts,
                                                   std::span<const process::Process> processes,
                                                   const Progress& progress);

} // namespace touchmark::pipeline
