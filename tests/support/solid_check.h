// SPDX-License-Identifier: MIT
#pragma once

#include <TopoDS_Shape.hxx>

#include <filesystem>

namespace touchmark::test {

struct SolidFigures {
    bool valid = false;  ///< BRepCheck_Analyzer on the whole
    bool closed = false; ///< every edge of every shell used once in each direction
    int solids = 0, faces = 0;
    double volume = 0; ///< BRepGProp, mm³
};

/// What the bare OpenCASCADE reader (STEPControl_Reader, no code of touchmark's) makes of a file. Throws
/// std::runtime_error when it cannot read. The volume is that of whole solids: BRepGProp integrates about a rough
/// middle of the vertices, which a mark moves, and is some 1e-6 off on rational splines; two such volumes must not be
/// subtracted to see a small mark on a large part.
[[nodiscard]] TopoDS_Shape read_bare_shape(const std::filesystem::path& file);
[[nodiscard]] SolidFigures figures_of(const TopoDS_Shape& shape);
[[nodiscard]] SolidFigures read_bare(const std::filesystem::path& file);

} // namespace touchmark::test
