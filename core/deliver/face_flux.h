// SPDX-License-Identifier: MIT
#pragma once

#include "core/deliver/file_geometry.h"

namespace touchmark::deliver {

/// An edge as a loop runs along it.
struct LoopEdge {
    const FileEdge* edge = nullptr;
    bool forward = true;
};
using Loop = std::vector<LoopEdge>;

struct LoopFigures {
    /// What it adds to the flux of (p − about)/3 through a face that lies on its left, seen from outside. Summed over
    /// the faces of a solid it is the volume, by the divergence theorem.
    double flux = 0;
    /// What it adds to the face's size in the surface's parameters, seen from where the surface's normal points.
    double size = 0;
};

/// On a plane, a cylinder or a cone: by Stokes' theorem along the loop alone, so that two loops around a band of the
/// surface need no seam between them.
[[nodiscard]] LoopFigures loop_figures(const FileSurface& surface, const Loop& loop, const Vec3& about);

/// The flux through a face that is a whole rectangle of a spline's or extrusion's parameters, its loop along the sides
/// and turning as `same_sense` has it. nullopt when it is none.
[[nodiscard]] std::optional<double> patch_flux(const FileSurface& surface, bool same_sense, const Loop& loop,
                                               const Vec3& about, double tolerance);

} // namespace touchmark::deliver
