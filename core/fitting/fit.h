// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/progress.h"
#include "core/fitting/prediction.h"
#include "core/fitting/sheet.h"
#include "core/fitting/threshold.h"
#include "core/fitting/wedge.h"

namespace touchmark::fitting {

/// A figure of the profile before and after.
struct FittedFigure {
    std::string key;   ///< of the profile: "printing.bead_spread"
    std::string title; ///< "Bead spread"
    std::string unit;
    double base = 0;
    /// nullopt: the sheet does not determine it, and the base's stays.
    std::optional<double> value{};
    double low = 0, high = 0; ///< 95 %; only where it is determined, or for what `why` says
    std::size_t rows = 0;     ///< of the sheet that speak of it
    std::string why{};        ///< it is not determined; empty where it is
};

/// A series of strokes or gaps as it was seen and as the simulated print has it.
struct SeriesOutcome {
    char letter = 'A';
    std::optional<Threshold> seen{}; ///< by the counts alone
    std::optional<double> base{};    ///< from which width on it comes out, in the simulated print by the base
    std::optional<double> fitted{};
};

/// One row of the sheet about a stroke or gap against the model.
struct RowOutcome {
    std::size_t item = 0, line = 0;
    int printed = 0, came_out = 0;
    double chance_base = 0, chance = 0; ///< to come out; only where it was counted
    std::vector<double> measured_mm{};
    double width_base = 0, width = 0; ///< only where it was measured
    bool odd = false;                 ///< less likely than 1 in 200 by the fitted model
};

/// What a filled-in sheet makes of a profile.
struct Fit {
    process::Process base;
    std::vector<FittedFigure> figures; ///< attenuation included
    std::optional<WedgeFit> wedge{};
    std::vector<SeriesOutcome> series{};
    std::vector<RowOutcome> rows{};
    double scatter_mm = 0; ///< of measured widths about the model
    std::size_t readings = 0;
    std::vector<std::string> notes{}; ///< what a person has to know before trusting it

    /// The base with what was determined.
    [[nodiscard]] process::Process fitted() const;
};

/// Bead spread, first-layer spread, least line and transmission that make the sheet likeliest, with intervals of 95 %
/// by the profile likelihood. See docs/fit-a-profile.md for the method. Errors: "print.no_figures", "fitting.nothing"
/// (no stroke, gap or step was looked at), those of the simulated print, "cancelled".
[[nodiscard]] Result<Fit> fit_sheet(const process::Process& process, std::span<const Item> items, const Sheet& sheet,
                                    const Progress& progress);
/// The same by a model that is there already; REQUIRES: it was made for this process, these items and all that this
/// sheet speaks of.
[[nodiscard]] Result<Fit> fit_sheet(const PrintModel& model, const process::Process& process,
                                    std::span<const Item> items, const Sheet& sheet);

} // namespace touchmark::fitting
