// SPDX-License-Identifier: MIT
#include "core/process/process.h"

namespace touchmark::process {

std::span<const Printing::Row> Printing::rows() {
    static constexpr Row table[] = {
        {"bead_spread", "mm", &Printing::bead_spread_mm, 0, 2},
        {"smoothing", "", &Printing::smoothing, 0, 2},
        {"first_layer_spread", "mm", &Printing::first_layer_spread_mm, 0, 2},
        {"least_line", "mm", &Printing::least_line_mm, 0.01, 10},
        {"least_island", "mm²", &Printing::least_island_mm2, 0, 100},
        {"supported", "", &Printing::supported, 0, 1},
        {"ledge_sag", "", &Printing::ledge_sag, 0, 5},
        {"bridge_sag", "", &Printing::bridge_sag, 0, 1},
        {"ripple", "", &Printing::ripple, 0, 1},
        {"speed", "mm/s", &Printing::speed_mm_s, 0.1, 2000},
        {"travel_speed", "mm/s", &Printing::travel_mm_s, 0.1, 5000},
        {"retraction", "s", &Printing::retraction_s, 0, 60},
        {"least_layer_time", "s", &Printing::least_layer_s, 0, 600},
        {"attenuation", "1/mm", &Printing::attenuation_per_mm, 0.001, 1000},
        {"scatter", "", &Printing::scatter, 0, 5},
    };
    return table;
}

} // namespace touchmark::process
