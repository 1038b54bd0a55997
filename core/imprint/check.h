// SPDX-License-Identifier: MIT
#pragma once

// What a changed solid must satisfy. BRepCheck alone is not enough: it passes cuts that cut nothing, lids without
// thickness and voids turned inside out; and on a face with many holes it takes minutes.

#include "core/base/result.h"

#include <TopoDS_Face.hxx>
#include <TopoDS_Shape.hxx>

#include <span>

namespace touchmark::imprint {

/// Edges that are not used exactly once in each direction. The same edge at two places (locations) is two edges; a seam
/// is used by one face in both directions; collapsed edges do not count.
[[nodiscard]] int open_edges(const TopoDS_Shape& shape);

/// For faces that stand in the place of the `old` ones: each of their edges is used once in each direction among them,
/// or only once, where the old ones used it so. Edges that they used on both sides (seams) may have gone.
[[nodiscard]] bool fits_in_place_of(std::span<const TopoDS_Face> fresh, std::span<const TopoDS_Face> old);

struct Balance {
    int solids = 0, shells = 0, open_edges = 0;
    double volume = 0; ///< of the whole: good for its sign
    bool valid = false;
};
[[nodiscard]] Balance balance_of(const TopoDS_Shape& shape);

/// How much more `after` encloses, by the divergence theorem over the faces that only one of the two has, about a point
/// among them: what they share does not enter, so the size of the part costs no accuracy.
[[nodiscard]] double volume_gained(const TopoDS_Shape& before, const TopoDS_Shape& after);

/// After a boolean: as many solids, so many more shells, no new open edge, still positive, the volume changed by
/// `change`, valid if it was. Returns volume_gained(): `change` may be a rough figure. Errors: "imprint.failed".
[[nodiscard]] Result<double> compare(const TopoDS_Shape& before, const TopoDS_Shape& after, double change,
                                     int more_shells = 0);

[[nodiscard]] std::unexpected<Error> failed(std::string_view why);

} // namespace touchmark::imprint
