// SPDX-License-Identifier: MIT
#pragma once

#include "core/pipeline/cache.h"
#include "core/pipeline/evaluate.h"
#include "core/surface/margin.h"

namespace touchmark::pipeline {

/// How the part stands.
struct Stand {
    plate::Placement placement;
    double height_mm = 0;
};

/// A drawn outline measured at one size.
struct Measured {
    geometry::Widths widths;
    std::size_t regions = 0; ///< of the outline
};

/// A drawn outline whose counters are held.
struct BridgedDrawing {
    std::shared_ptr<const content::Drawn> drawn;
    std::vector<geometry::Bridge> bridges;
    std::shared_ptr<const std::vector<geometry::Narrow>> strokes, gaps;
    std::shared_ptr<const std::vector<geometry::Stretch>> stroke_stretches, gap_stretches;
};

/// What is around one mark where it is.
struct Surround {
    std::optional<imprint::Obstacles::Wall> wall;
    std::optional<double> room_above;
    std::optional<imprint::FarSide> far;
    std::optional<Error> no_far;
};

/// The solid after the first marks of a job.
struct Step {
    part::PartPtr part;
    std::vector<imprint::MarkResult> marks;
};

/// Everything an Evaluator remembers. Capacities: a job of some hundred marks and the edits of a few minutes; parts
/// weigh most.
struct Store {
    Cache<plate::Meshes> meshes{4};
    Cache<imprint::Obstacles> obstacles{4};
    Cache<Stand> stands{64};
    Cache<std::vector<plate::Standing>> standings{64};
    Cache<Result<std::shared_ptr<const content::Drawn>>> drawings{512};
    Cache<Measured> widths{256};
    Cache<BridgedDrawing> bridged{128};
    Cache<geometry::Widths> letters{2048};
    Cache<content::LetterMeasure> letter_measures{2048};
    Cache<std::vector<content::Lookalike>> lookalikes{256};
    Cache<std::vector<content::WorstCase>> worst_cases{256};
    Cache<Result<surface::FaceMapPtr>> maps{256};
    Cache<surface::FaceMapPtr> laid{256}; ///< maps about a mark's anchor
    Cache<surface::MarginFinder> finders{48};
    Cache<bool> places{512}; ///< false: there is none for this mark on this face
    Cache<surface::Margin> margins{1024};
    Cache<Surround> surrounds{1024};
    Cache<Step> steps{24};
    Cache<print::PrintedMark> printed{64};
    /// The last print of a mark like it, elsewhere on a face of its zone: what is shown while it is dragged.
    Cache<print::PrintedMark> printed_alike{64};
};

} // namespace touchmark::pipeline
