// SPDX-License-Identifier: MIT
#include "core/fitting/likelihood.h"

#include "core/fitting/threshold.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace touchmark::fitting {
namespace {

constexpr double known_readings = 4, known_mm = 0.03; ///< see Likelihood

std::size_t index(Unknown unknown) {
    return static_cast<std::size_t>(unknown);
}

Unknown spread_for(const Item& item) {
    if (item.zone == Zone::bottom) return Unknown::bottom_spread;
    return item.mode == Mode::raise && item.kind == Kind::stroke ? Unknown::raised_spread : Unknown::cut_spread;
}

/// The figure that decides whether it comes out, or how wide it is.
Unknown figure_for(const Item& item, bool width) {
    if (item.zone == Zone::bottom) return Unknown::first_layer_spread;
    return !width && item.mode == Mode::raise && item.kind == Kind::stroke ? Unknown::least_line : Unknown::bead_spread;
}

} // namespace

Likelihood::Likelihood(const PrintModel& model, const Figures& base, double line_width_mm, std::span<const Item> items,
                       std::span<const Seen> seen, Part part)
    : model_(&model), base_(base), line_(line_width_mm) {
    for (const Seen& row : seen) {
        const Item& item = items[row.item];
        if (item.kind != Kind::stroke && item.kind != Kind::gap) continue;
        if (row.printed > 0 && part != Part::widths) {
            counts_.push_back({&item, row.printed, row.came_out});
            active_[index(figure_for(item, false))] = active_[index(spread_for(item))] = true;
        }
        if (part == Part::counts) continue;
        for (const double mm : row.measured_mm) {
            readings_.push_back({row.item, mm});
            active_[index(figure_for(item, true))] = by_width_[index(figure_for(item, true))] = true;
        }
    }
}

std::vector<double> Likelihood::start() const {
    const double spread = std::log(0.2 * line_);
    return {base_.bead_spread, base_.first_layer_spread, base_.least_line, spread, spread, spread};
}

Search Likelihood::search() const {
    const Figures &least = model_->least(), &most = model_->most();
    const Range spread{std::log(sharpest * line_), std::log(line_)};
    std::vector<Range> ranges{{least.bead_spread, most.bead_spread},
                              {least.first_layer_spread, most.first_layer_spread},
                              {least.least_line, most.least_line},
                              spread,
                              spread,
                              spread};
    // What nothing depends on stays where it is.
    const std::vector<double> at = start();
    for (std::size_t k = 0; k < unknowns; ++k)
        if (!active_[k]) ranges[k] = {at[k], at[k]};
    return {std::move(ranges), [this](std::span<const double> place) { return deviance(place); }};
}

double Likelihood::critical(Unknown unknown) const {
    if (!by_width_[index(unknown)]) return critical_excess();
    const auto fitted = static_cast<double>(std::ranges::count(by_width_, true));
    const double squares = static_cast<double>(readings_.size()) + known_readings;
    return critical_excess(squares, std::max(1.0, squares - fitted));
}

Figures Likelihood::figures(std::span<const double> at) const {
    return {at[index(Unknown::bead_spread)], at[index(Unknown::first_layer_spread)], at[index(Unknown::least_line)]};
}

double Likelihood::spread(const Item& item, std::span<const double> at) const {
    return std::exp(at[index(spread_for(item))]);
}

double Likelihood::chance(const Item& item, std::span<const double> at) const {
    return chance_to_come_out(item.size_mm, model_->threshold(item.name.front(), figures(at)), spread(item, at),
                              usual_slip);
}

double Likelihood::squares(const Figures& figures) const {
    double sum = 0;
    for (const Reading& reading : readings_) {
        const double off = reading.mm - model_->width(reading.item, figures);
        sum += off * off;
    }
    return sum;
}

double Likelihood::deviance(std::span<const double> at) const {
    const Figures here = figures(at);
    double sum = 0;
    char series = 0;
    double threshold = 0;
    for (const Count& row : counts_) {
        if (row.item->name.front() != series) {
            series = row.item->name.front();
            threshold = model_->threshold(series, here);
        }
        sum += deviance_of({row.item->size_mm, row.printed, row.came_out},
                           chance_to_come_out(row.item->size_mm, threshold, spread(*row.item, at), usual_slip));
    }
    if (readings_.empty()) return sum;
    const double known = known_readings * known_mm * known_mm;
    return sum + (static_cast<double>(readings_.size()) + known_readings) * std::log(squares(here) + known);
}

double Likelihood::scatter(std::span<const double> at) const {
    if (readings_.empty()) return 0;
    const auto fitted = static_cast<double>(std::ranges::count(by_width_, true));
    return std::sqrt(squares(figures(at)) / std::max(1.0, static_cast<double>(readings_.size()) - fitted));
}

} // namespace touchmark::fitting
