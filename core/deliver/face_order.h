// SPDX-License-Identifier: MIT
#pragma once

#include <BRepTools_ReShape.hxx>

namespace touchmark::deliver {

/// For each edge that no face before has described, OpenCASCADE's writer runs over all edges of the edge's face: a face
/// with the outlines of a long text costs the square of their number. So faces with many edges come last in their
/// shell, when their neighbours have described every edge. Returns what to replace in `shape`: shells with such faces,
/// by the same faces in another order. Nothing in most shapes.
[[nodiscard]] Handle(BRepTools_ReShape) faces_with_many_edges_last(const TopoDS_Shape& shape);

} // namespace touchmark::deliver
