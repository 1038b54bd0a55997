// SPDX-License-Identifier: MIT
#pragma once

#include "core/deliver/appended.h"

namespace touchmark::deliver {

/// What was found in a marked copy.
struct AppendedFigures {
    double volume_change_mm3 = 0; ///< against the unmarked part
    int shells = 0, faces = 0;    ///< checked one by one: those that changed or are new
};

/// Reading a marked copy back whole costs a hundred times what marking it did, nearly all of it for faces that were
/// read back before. This looks at what was added, from the text as it is on the disk and without OpenCASCADE: that the
/// text is a STEP file whose references all lead somewhere; that what was not to change is as it was, to the byte; that
/// the changed and the new shells have the faces they should have, every edge twice, once in each direction, every loop
/// going from vertex to vertex, every new edge ending in its vertices and lying on both its surfaces; that no face is
/// turned; and the volume, as the flux through the changed faces. nullopt when a changed face lies on a kind of surface
/// that this cannot judge (spheres, tori, trimmed splines, offsets): then the copy is to be read back whole. Errors:
/// "deliver.verify".
[[nodiscard]] Result<std::optional<AppendedFigures>> check_appended(const Exchange& copy, const Unmarked& unmarked,
                                                                    const Changes& changes, const Appended& meant);

} // namespace touchmark::deliver
