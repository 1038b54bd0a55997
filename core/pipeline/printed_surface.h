// SPDX-License-Identifier: MIT
#pragma once

#include "core/job/job.h"
#include "core/part/part.h"
#include "core/print/printed_mark.h"
#include "core/surface/face_map.h"

namespace touchmark::pipeline {

/// What a point of a printed mark shows.
enum class Shown : std::uint8_t {
    face,  ///< the plain face
    mark,  ///< the mark, as planned
    lost,  ///< planned, but not there
    fused, ///< there, but not planned
};

/// A printed mark laid on its face, part coordinates.
struct PrintedSurface {
    part::FaceMesh lid;       ///< what of the plain face it takes the place of
    part::FaceMesh surface;   ///< as printed; edges: the planned outline on the face
    std::vector<Shown> shown; ///< one a point of `surface`
    std::vector<float> glow;  ///< of a hidden mark against a light, 0 … 1, one a point; else empty
};

/// As far about the mark as its face goes, a millimetre at most. `most_points`: coarser where it would take more.
[[nodiscard]] PrintedSurface printed_surface(const print::PrintedMark& printed, const job::Mark& mark,
                                             const surface::FaceMap& map, const geometry::Outline& drawn,
                                             std::size_t most_points = 40'000);

} // namespace touchmark::pipeline
