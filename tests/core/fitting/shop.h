// SPDX-License-Identifier: MIT
#pragma once

#include "core/fitting/prediction.h"

#include <map>
#include <random>

namespace touchmark::fitting {

/// What a shop is like whose strips are made up: its figures, how gradually things come out, and how well it measures.
struct Nature {
    Figures figures;
    double spread_mm = 0.04; ///< of thresholds
    double reading_mm = 0.03;
    int strips = 5;
    int readings = 2; ///< of each measured item
};

/// Prints and looks at strips, with thresholds and widths from the simulated print itself, not from a fit's tables.
class Shop {
public:
    Shop(process::Process base, const Nature& nature);
    [[nodiscard]] Sheet sheet(std::mt19937& chance) const;
    [[nodiscard]] const std::vector<Item>& items() const { return items_; }
    /// The narrowest that print::fidelity_of() lets come out, by bisection.
    [[nodiscard]] double threshold(char series) const { return thresholds_.at(series); }
    [[nodiscard]] double width(std::size_t item) const { return widths_.at(item); }

private:
    process::Process process_;
    Nature nature_;
    std::vector<Item> items_;
    std::map<char, double> thresholds_;
    std::map<std::size_t, double> widths_;
};

[[nodiscard]] const process::Process& standard();

} // namespace touchmark::fitting
