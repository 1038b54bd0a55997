// SPDX-License-Identifier: MIT
#pragma once

// Marks on a curved face that end in a plane.

#include "core/imprint/imprint.h"

namespace touchmark::imprint {

/// The plane square to the normal at the mark's anchor at which it ends, with walls straight along that normal. The
/// mark's depth (or height) is the least there is anywhere under its outline.
struct FlatFloor {
    Frame frame;                    ///< origin on the face at the anchor, z its normal out of the material
    double height = 0;              ///< of the plane over the origin
    double lowest = 0, highest = 0; ///< of the face under the outline
    double steepest = 0;            ///< degrees between its normal and that at the anchor, at most

    [[nodiscard]] double above(const Vec3& p) const { return dot(p - frame.origin, frame.z); }
    /// The point of the plane straight under or over it.
    [[nodiscard]] Vec3 on_floor(const Vec3& p) const { return p + frame.z * (height - above(p)); }
};

/// Whether the mark has one: engrave and raise, on a face that is not flat.
[[nodiscard]] bool has_flat_floor(const Footprint& mark);

/// In part coordinates. REQUIRES: has_flat_floor().
[[nodiscard]] FlatFloor flat_floor(const Footprint& mark);

/// Errors: "imprint.depth", where the face leans too far.
[[nodiscard]] Status within_reach(const Footprint& mark, const FlatFloor& floor);

} // namespace touchmark::imprint
