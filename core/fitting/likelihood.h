// SPDX-License-Identifier: MIT
#pragma once

// How well figures go with a sheet. Internal to fitting.

#include "core/fitting/prediction.h"
#include "core/fitting/search.h"

namespace touchmark::fitting {

/// What is looked for. The spreads say how gradually a kind of item goes from absent to there.
enum class Unknown { bead_spread, first_layer_spread, least_line, cut_spread, raised_spread, bottom_spread };
inline constexpr std::size_t unknowns = 6;

/// What is used of a sheet.
enum class Part { all, counts, widths };

/// Strokes and gaps that came out, by a probit about where the simulated print says a series begins; widths by least
/// squares about the simulated ones, whose scatter is not known beforehand. Of the scatter it is taken for known what
/// four readings with a standard deviation of 0.03 mm would say of it (assumed: a loupe with a scale), or a single
/// reading would count for certain.
class Likelihood {
public:
    Likelihood(const PrintModel& model, const Figures& base, double line_width_mm, std::span<const Item> items,
               std::span<const Seen> seen, Part part = Part::all);

    /// Whether anything in the sheet depends on it.
    [[nodiscard]] bool depends_on(Unknown unknown) const { return active_[static_cast<std::size_t>(unknown)]; }
    [[nodiscard]] Search search() const;
    /// From where to look; the base's figures.
    [[nodiscard]] std::vector<double> start() const;
    /// Of an interval of 95 %.
    [[nodiscard]] double critical(Unknown unknown) const;

    [[nodiscard]] double deviance(std::span<const double> at) const;
    [[nodiscard]] Figures figures(std::span<const double> at) const;
    [[nodiscard]] double spread(const Item& item, std::span<const double> at) const;
    /// Of a stroke or gap; REQUIRES: it was counted.
    [[nodiscard]] double chance(const Item& item, std::span<const double> at) const;
    /// Standard deviation of the readings about the model, mm; 0 without any.
    [[nodiscard]] double scatter(std::span<const double> at) const;
    [[nodiscard]] std::size_t readings() const { return readings_.size(); }
    [[nodiscard]] std::size_t counts() const { return counts_.size(); }

private:
    struct Count {
        const Item* item;
        int printed, came_out;
    };
    struct Reading {
        std::size_t item;
        double mm;
    };
    [[nodiscard]] double squares(const Figures& figures) const; ///< of the readings' departures, mm²

    const PrintModel* model_;
    Figures base_;
    double line_;
    std::vector<Count> counts_;
    std::vector<Reading> readings_;
    std::array<bool, unknowns> active_{}, by_width_{};
};

} // namespace touchmark::fitting
