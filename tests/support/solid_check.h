// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/vector.h"

#include <filesystem>

namespace touchmark::test {

struct SolidFigures {
    bool valid = false;  ///< BRepCheck_Analyzer on the whole
    bool closed = false; ///< every edge of every shell used once in each direction
    int solids = 0, faces = 0;
    double volume = 0; ///< BRepGProp, mm³
};

/// What the bare OpenCASCADE reader (STEPControl_Reader, no code of touchmark's) makes of a file. The volume is the
/// flux of (p − origin)/3 through the faces: a flat face through `origin` adds nothing, so BRepGProp's rounding on a
/// large holed face (some 4e-7 of a part's volume) does not drown a small mark on it. Throws std::runtime_error when it
/// cannot read.
[[nodiscard]] SolidFigures read_bare(const std::filesystem::path& file, Vec3 origin = {});

} // namespace touchmark::test
