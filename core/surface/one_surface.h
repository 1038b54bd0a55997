// SPDX-License-Identifier: MIT
#pragma once

// Faces that go on in one another: a cylinder stored as two halves, a flat face split by an edge.

#include "core/part/part.h"

#include <TopoDS_Face.hxx>

#include <span>
#include <vector>

namespace touchmark::surface {

/// `face` and all faces of its body that lie on the same plane, cylinder or cone to a micrometre, on the same side of
/// it, and can be reached from it over edges that they share. `face` comes first, the others ascend.
[[nodiscard]] std::vector<int> faces_of_one_surface(const part::Part& part, const part::Face& face);

/// As they lie in their product, all of one body.
[[nodiscard]] std::vector<TopoDS_Face> shapes_of(const part::Part& part, std::span<const int> faces);

} // namespace touchmark::surface
