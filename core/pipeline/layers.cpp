// SPDX-License-Identifier: MIT
#include "core/pipeline/layers.h"

#include "core/pipeline/printing.h"

namespace touchmark::pipeline {

Result<print::Layers> print_layers(const Evaluation& evaluation, std::size_t index, const process::Process& process,
                                   const Progress& progress, print::Want want) {
    const MarkEvaluation& own = evaluation.marks[index];
    if (!own.drawn || !own.map)
        return fail("pipeline.not_drawn", "The mark \"" + own.mark + "\" has no outline or no face to print it on.",
                    "See its findings.");
    const job::Mark& mark = evaluation.job.marks[index];
    const double height = evaluation.placement(own.map->point(mark.anchor.at)).z;
    const bool highest = height > evaluation.height_mm - process.layer_height_mm.value / 2;
    const print::LayersOptions options{.beside = own.zone == Zone::top && highest ? print::Beside::nothing
                                                                                  : print::Beside::part,
                                       .cover = mark.cover,
                                       .want = want};
    return print::layers_of(own.drawn->outline, standing_of(order_of(evaluation, index), process), process, options,
                            progress);
}

} // namespace touchmark::pipeline
