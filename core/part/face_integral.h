// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/vector.h"
#include "core/part/face_boundary.h"

#include <TopoDS_Face.hxx>
#include <gp_Cylinder.hxx>

#include <optional>
#include <vector>

namespace touchmark::part {

struct FaceIntegral {
    double area = 0;
    Vec3 centroid;
    double volume = 0; ///< ∫ (point − about)·normal / 3: the shares of a closed shell's faces add up to its volume
};

/// Area, centroid and volume share in one pass over the face's boundary. Exact but for rounding on planes, cylinders,
/// cones, spheres and tori; on freeform faces within about 1e-6 of the area, a few times worse on surfaces of high
/// degree. Several times faster than OpenCASCADE's general integration. An edge without a curve in the parameter plane
/// falls back to that; nullopt when that fails as well.
[[nodiscard]] std::optional<FaceIntegral> integrate(const TopoDS_Face& face, const Vec3& about);

/// The same of a face on a cylinder whose boundary is known; exact but for rounding. `reversed`: the face against its
/// surface.
[[nodiscard]] FaceIntegral integrate(const gp_Cylinder& cylinder, const std::vector<BoundarySample>& boundary,
                                     bool reversed, const Vec3& about);

} // namespace touchmark::part
