// SPDX-License-Identifier: MIT
#pragma once

#include "tests/core/part/derived_files.h"

#include <TopoDS_Shape.hxx>

namespace touchmark::test {

/// STEP files written by OpenCASCADE, each in a process of its own: its writer leaves state behind.
[[nodiscard]] std::filesystem::path written(const Folder& folder, const TopoDS_Shape& shape);
/// `copies` of the shape in an assembly that is wrapped in `levels` further ones; copies stand 10 mm apart along y,
/// each level moves its content by 10 mm along x.
[[nodiscard]] std::filesystem::path written_copies(const Folder& folder, const TopoDS_Shape& shape, int copies,
                                                   int levels);

} // namespace touchmark::test
