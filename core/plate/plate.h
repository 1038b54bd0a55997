// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/words.h"
#include "core/part/part.h"
#include "core/process/process.h"

namespace touchmark::plate {

/// How the part lies on the build plate: which of its directions points down, then a turn about the vertical. The plate
/// is z = 0, up is +z.
struct Pose {
    Vec3 down{0, 0, -1}; ///< part coordinates, unit
    Degrees turn{0};

    friend bool operator==(const Pose&, const Pose&) = default;
};

/// Part coordinates → plate coordinates: p ↦ R p + t, the lowest point at z = 0, the middle of the part's box over the
/// plate's origin.
struct Placement {
    std::array<Vec3, 3> rows{Vec3{1, 0, 0}, Vec3{0, 1, 0}, Vec3{0, 0, 1}};
    Vec3 shift;

    [[nodiscard]] Vec3 direction(Vec3 v) const { return {dot(rows[0], v), dot(rows[1], v), dot(rows[2], v)}; }
    [[nodiscard]] Vec3 operator()(Vec3 p) const { return direction(p) + shift; }
    [[nodiscard]] Vec3 back(Vec3 v) const { return rows[0] * v.x + rows[1] * v.y + rows[2] * v.z; } ///< a direction
};

using Meshes = std::vector<std::shared_ptr<const part::FaceMesh>>;

/// The mesh gives the true lowest point; the part's box alone would not for a turned part.
[[nodiscard]] Placement placement_of(const Pose& pose, const Meshes& meshes);
[[nodiscard]] double height_of(const Placement& placement, const Meshes& meshes);

/// `up` is the cosine between the outward normal and straight up; `height` mm above the plate. A normal within 0.01° of
/// a limit counts as beyond it, or, at the side wall's end, as within it, so that a chamfer drawn at 45° is a side wall
/// however its normal rounds. Bottom: faces straight down that lie within half a first layer of the plate.
[[nodiscard]] Zone zone_of(double up, double height, const process::Process& process);
/// The zone of a face at a point of it.
[[nodiscard]] Zone zone_at(const Placement& placement, Vec3 point, Vec3 normal, const process::Process& process);

/// Flat face `normal` (part coordinates) laid on the plate; keeps the turn.
[[nodiscard]] Pose with_down(const Pose& pose, Vec3 normal);
/// Every pose that makes the face a side wall by laying a flat face of the part down: nothing juts below it, its
/// footing is at least 1 mm², and the centre of the solid lies above the footing, so that the part stands by itself.
/// The one with the largest footing first. The turn is kept.
struct Standing {
    Pose pose;
    int face = -1;          ///< the face that lies on the plate
    double footing_mm2 = 0; ///< its area
    double height_mm = 0;
};
[[nodiscard]] std::vector<Standing> stand_with_side_wall(const part::Part& part, const Meshes& meshes, Vec3 wall_normal,
                                                         const Pose& now, const process::Process& process);

/// Typed angles: rotations about the plate's x, then y, then z axis (degrees) from the file's own pose, and back.
/// Coming back, x and z lie in
/// (-180, 180], y in [-90, 90]; with y = ±90 only x ∓ z counts, and x is 0.
[[nodiscard]] Pose pose_from_angles(Degrees about_x, Degrees about_y, Degrees about_z);
[[nodiscard]] std::array<Degrees, 3> angles_of(const Pose& pose);

} // namespace touchmark::plate
