// SPDX-License-Identifier: MIT
#pragma once

// The two ways in which a mark meets its layers. Internal to print.

#include "core/print/simulate.h"

namespace touchmark::print {

inline constexpr double flat_within = 2e-3; ///< mm that polygons may be off their curves

/// Steps a cell that a layer is looked at in: coarser, 0.40 mm would come out like 0.42.
inline constexpr int finer = 8;

/// What both go by, in the frame in which layers run level.
struct Bench {
    Standing standing;
    geometry::Outline outline;
    std::vector<geometry::Polygon> polygons; ///< of the outline
    const process::Process* process;
    Grid grid;
    double layer_pitch = 0; ///< of the layers along the face, mm; rows_a_layer rows of the grid
    int rows_a_layer = 1;

    [[nodiscard]] const process::Printing& figures() const { return *process->printing; }
    [[nodiscard]] double line_width() const { return process->line_width_mm.value; }
    [[nodiscard]] bool raised() const { return standing.mode == Mode::raise; }
    [[nodiscard]] double smoothing_mm() const { return figures().smoothing.value * process->nozzle_mm.value; }
};

/// Walls and slopes: each layer's own line carries the relief.
[[nodiscard]] Status print_layered(const Bench& bench, Printed& out, const Progress& progress);
/// Top and bottom: the mark is a plane figure in a few layers.
[[nodiscard]] Status print_flat(const Bench& bench, Printed& out, const Progress& progress);

} // namespace touchmark::print
