// SPDX-License-Identifier: MIT
#pragma once

#include "core/imprint/imprint.h"

#include <string>
#include <vector>

namespace touchmark::test {

/// The same mark made by a library for booleans of triangle meshes: manifold-3d, which tests/support/fetch_manifold
/// fetches into the folder that the environment variable TOUCHMARK_MANIFOLD names, run by node
/// (tests/support/mesh_boolean.mjs).
struct MeshCase {
    std::string name;
    part::PartPtr part;
    imprint::Footprint mark;
    double deflection = 0.004; ///< of the part's mesh, mm
    double flattening = 5e-4;  ///< of the outline, mm
    double refinement = 0.3;   ///< longest edge of the tool on a curved face, mm
};

struct MeshResult {
    std::string status; ///< "NoError", or what manifold-3d says of the meshes
    double change = 0;  ///< volume after less before, mm³
    double milliseconds = 0;
};

/// Throws std::runtime_error when node or the library is missing.
[[nodiscard]] std::vector<MeshResult> mesh_booleans(const std::vector<MeshCase>& cases, int repetitions = 1);

/// How far the meshes' volume may be off, mm³: the area of the mark times the distance by which the part's mesh and the
/// tool's ends cut the corner of a curved face, its sides times the flattening of the outline, and the single precision
/// of the mesh's coordinates.
[[nodiscard]] double mesh_tolerance(const MeshCase& one);

} // namespace touchmark::test
