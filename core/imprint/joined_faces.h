// SPDX-License-Identifier: MIT
#pragma once

// Faces of one surface with a mark that lies across the edges between them: each of them is opened, and what the mark
// leaves of those edges parts what is left of them. Nothing else of the solid changes.

#include "core/base/result.h"
#include "core/imprint/joint.h"
#include "core/imprint/planar_walls.h"

#include <functional>

namespace touchmark::imprint {

struct JoinedFaces {
    std::span<const TopoDS_Face> faces; ///< as they lie in the solid
    std::vector<HostSurface> surfaces;  ///< of each
    std::span<const Joint> joints;
    std::function<std::size_t(const Vec3&)> face_at; ///< which of the faces a point of the surface lies on
    std::function<bool(const Vec3&)> marked;         ///< whether the mark covers it
};

/// What each of the faces becomes: one face, several, or none. `rims`: contours that end at every joint they cross.
/// Errors: "imprint.failed".
[[nodiscard]] Result<std::vector<std::vector<TopoDS_Face>>> opened_across(const JoinedFaces& joined,
                                                                          std::span<const RegionRims> rims);

} // namespace touchmark::imprint
