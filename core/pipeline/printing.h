// SPDX-License-Identifier: MIT
#pragma once

#include "core/pipeline/evaluate.h"

namespace touchmark::pipeline {

/// A mark with all that its print follows from.
struct PrintOrder {
    const job::Mark* mark = nullptr;
    content::Content said; ///< in the unit that is printed
    std::shared_ptr<const content::Drawn> drawn;
    surface::FaceMapPtr map;
    Zone zone = Zone::side_wall;
    std::optional<double> wall_mm; ///< Mode::through: how deep it goes
    plate::Placement placement;
    std::shared_ptr<const imprint::Obstacles> obstacles; ///< of the part; only a hidden mark needs them
    int body = 0;                                        ///< of the mark's face
};

/// REQUIRES: the mark has an outline and a map, and `evaluation` outlives the order. The obstacles are left out.
[[nodiscard]] PrintOrder order_of(const Evaluation& evaluation, std::size_t mark);

/// How a mark stands to the layers that print it, by where its anchor is.
[[nodiscard]] print::Standing standing_of(const PrintOrder& order, const process::Process& process);

/// Material behind a mark along the line of sight straight through the face at its anchor, mm: exact on the part's
/// mesh, at the middle of each cell of a grid. `to_mark`: the grid's frame → the mark's mm.
[[nodiscard]] print::Field thickness_behind(const PrintOrder& order, const print::Grid& grid,
                                            const geometry::Affine& to_mark);

/// Prints the mark in simulation and looks at what came out. Errors: those of simulate(), "cancelled".
[[nodiscard]] Result<print::PrintedMark> print_mark(const PrintOrder& order, const process::Process& process,
                                                    const Progress& progress);

/// The first unit of a mark of an evaluation, but not against a light. Errors: also "pipeline.not_drawn" (the mark has
/// no outline or no face), those of content::expanded().
[[nodiscard]] Result<print::PrintedMark> print_mark(const Evaluation& evaluation, std::size_t mark,
                                                    const process::Process& process, const Progress& progress);

} // namespace touchmark::pipeline
