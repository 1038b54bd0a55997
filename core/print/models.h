// SPDX-License-Identifier: MIT
#pragma once

// The two ways in which a mark meets its layers. Internal to print.

#include "core/print/simulate.h"

namespace touchmark::print {

inline constexpr double flat_within = 2e-3; ///< mm that polygons may be off their curves

/// Steps a cell that a layer is looked at in: coarser, 0.40 mm would come out like 0.42.
inline constexpr int finer = 8;

/// A layer as it shows on a wall or slope.
struct Band {
    double from = 0, to = 0;        ///< mm along the grid's y
    int first_row = 0, end_row = 0; ///< of the grid, the last one excluded
    bool first_on_plate = false;

    [[nodiscard]] double width() const { return to - from; }
    [[nodiscard]] double middle() const { return (from + to) / 2; }
};

/// What both go by, in the frame in which layers run level.
struct Bench {
    Standing standing;
    geometry::Outline outline;
    std::vector<geometry::Polygon> polygons; ///< of the outline
    const process::Process* process;
    Grid grid;
    std::vector<Band> bands{}; ///< of walls and slopes, from below

    [[nodiscard]] const process::Printing& figures() const { return *process->printing; }
    [[nodiscard]] double line_width() const { return process->line_width_mm.value; }
    [[nodiscard]] bool raised() const { return standing.mode == Mode::raise; }
    [[nodiscard]] double held_mm() const { return figures().supported.value * line_width(); }
    [[nodiscard]] double smoothing_mm() const { return figures().smoothing.value * process->nozzle_mm.value; }
};

/// Turned so that layers run level. Errors: "print.no_figures", "print.empty", "print.too_large".
[[nodiscard]] Result<Bench> laid_out(const geometry::Outline& outline, const Standing& standing,
                                     const process::Process& process, geometry::Affine& from_mark);

/// Where the mark's own figure stands in one layer of a top or bottom whose lines are wider than planned by `spread` on
/// each side. Raised: what a line fits into, grown by what it spreads. Cut: what the lines of the material around it
/// leave open.
[[nodiscard]] geometry::Outline laid(const Bench& bench, double spread);

/// How a mark on a top or bottom divides into layers.
struct FlatLayers {
    int others = 1;        ///< layers of the usual height
    bool in_first = false; ///< and the first layer on the plate below them
};
[[nodiscard]] FlatLayers flat_layers(const Bench& bench);

/// What each layer of a wall or slope carries, a row a layer: mm out of the face.
struct Profiles {
    Field heights;
    std::vector<double> extra_mm; ///< how much longer each layer's edge is than a straight one
};
[[nodiscard]] Result<Profiles> profiles(const Bench& bench, const Progress& progress);
/// mm by which a place in a layer hangs out beyond what the layer below holds; positive: unsupported.
[[nodiscard]] double hanging(const Bench& bench, const Field& layers, int column, int layer);

/// Walls and slopes: each layer's own line carries the relief.
[[nodiscard]] Status print_layered(const Bench& bench, Printed& out, const Progress& progress);
/// Top and bottom: the mark is a plane figure in a few layers.
[[nodiscard]] Status print_flat(const Bench& bench, Printed& out, const Progress& progress);

} // namespace touchmark::print
