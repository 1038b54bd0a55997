// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/vector.h"

#include <TopoDS_Shape.hxx>

namespace touchmark::test {

/// How two shapes differ, face by face.
struct ChangedFaces {
    int kept = 0; ///< faces that are in both: equal area, centroid and vertices
    int gone = 0, made = 0;
    double volume = 0; ///< mm³ of the second less the first
};

/// The difference in volume is taken over the faces that changed and no others: those that are in both cancel, whatever
/// an integration would make of them. By the divergence theorem it is the flux of (p − origin)/3 through the faces made
/// less that through the faces gone, each by OpenCASCADE's adaptive integration. With `origin` on the plane of the
/// marked face, that face, holed as it may be, adds nothing, so what is left is the floors and walls of the mark alone:
/// small smooth faces near the origin, on which the integration is good to some 1e-9 of the mark's volume. (Whole
/// solids will not do: in as1-oc-214 the mark is 1e-5 of the part, and the file's own gaps and splines are worth more.)
[[nodiscard]] ChangedFaces changed_faces(const TopoDS_Shape& before, const TopoDS_Shape& after, Vec3 origin);

} // namespace touchmark::test
