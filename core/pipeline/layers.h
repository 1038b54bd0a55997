// SPDX-License-Identifier: MIT
#pragma once

#include "core/pipeline/evaluate.h"
#include "core/print/layers.h"

namespace touchmark::pipeline {

/// The layers that a mark of an evaluation touches. A raised mark on the part's highest face has its layers to itself.
/// Errors: those of print::layers_of(), "pipeline.not_drawn" (the mark has no outline or no face).
[[nodiscard]] Result<print::Layers> print_layers(const Evaluation& evaluation, std::size_t mark,
                                                 const process::Process& process, const Progress& progress,
                                                 print::Want want = print::Want::regions);

} // namespace touchmark::pipeline
