// SPDX-License-Identifier: MIT
#pragma once

#include "core/process/process.h"

namespace touchmark::process {

/// Whether the process lays lines through a nozzle. Of one that does not (a powder bed, a vat) nozzle, line width and
/// the figures of the simulated print are empty: its marks are judged by its limits alone, none of which is counted in
/// lines.
[[nodiscard]] inline bool extrudes(const Process& process) {
    return process.nozzle_mm.value > 0;
}

/// Why marks are not printed in simulation: "print.no_figures". REQUIRES: !process.printing.
[[nodiscard]] Error no_simulated_print(const Process& process);

} // namespace touchmark::process
