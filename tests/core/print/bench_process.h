// SPDX-License-Identifier: MIT
#pragma once

#include "core/process/process.h"
#include <filesystem>

namespace touchmark::print {

/// A profile that comes along, as its file has it.
inline process::Process profile(const char* id = "fff-0.4") {
    return process::load_process(std::filesystem::path(TOUCHMARK_RESOURCES) / "processes" / (std::string(id) + ".json"))
        .value();
}

/// The same without rounding, spread, sag and ripple, and a stroke of a line's width comes out: what is left are shapes
/// with closed formulas.
inline process::Process sharp_profile() {
    process::Process process = profile();
    process::Printing& printing = *process.printing;
    for (process::Sourced* figure : {&printing.bead_spread_mm, &printing.first_layer_spread_mm, &printing.smoothing,
                                     &printing.ledge_sag, &printing.bridge_sag, &printing.ripple})
        figure->value = 0;
    printing.least_line_mm.value = process.line_width_mm.value;
    return process;
}

} // namespace touchmark::print
