// SPDX-License-Identifier: MIT
#pragma once

#include <filesystem>

namespace touchmark::test {

struct SolidFigures {
    bool valid = false;  ///< BRepCheck_Analyzer on the whole
    bool closed = false; ///< every edge of every shell used once in each direction
    int solids = 0, faces = 0;
    double volume = 0; ///< BRepGProp, mm³
};

/// What the bare OpenCASCADE reader (STEPControl_Reader, no code of touchmark's) makes of a file. Throws
/// std::runtime_error when it cannot.
[[nodiscard]] SolidFigures read_bare(const std::filesystem::path& file);

} // namespace touchmark::test
