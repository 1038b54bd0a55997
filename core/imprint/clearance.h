// SPDX-License-Identifier: MIT
#pragma once

#include "core/imprint/imprint.h"

#include <memory>
#include <optional>
#include <vector>

namespace touchmark::imprint {

class TriangleTree;

/// Where a mark that goes through its wall comes out. Depths are measured down the mark's normals, mm, on the mesh.
struct FarSide {
    double nearest = 0, farthest = 0; ///< least and greatest depth at which the mark comes out of the wall
    std::optional<double> next;       ///< least depth at which material begins again behind it
    std::vector<int> faces;           ///< through which it comes out
};

/// A bounding-volume tree over a part's mesh that answers how much material lies behind a mark. Immutable; make one a
/// part and share it.
class Obstacles {
public:
    [[nodiscard]] static Result<std::shared_ptr<const Obstacles>>
    of(const part::Part& part, const part::Deflection& deflection, const Progress& progress);
    ~Obstacles();

    struct Wall {
        /// Least material, mm, between the floor or walls of the cut and any other face of the body: 0 or negative when
        /// it pokes through.
        double thickness = 0;
        Vec2 at;       ///< where under the mark, map mm
        Vec3 nearest;  ///< the point of the other face
        int face = -1; ///< the other face
    };
    /// For a cut of this depth, or down to the floor of a hidden void. About a millisecond for a line of text. nullopt
    /// when nothing lies behind within 1,000 mm. Counted is what lies beneath the face, seen along its normal: a side
    /// wall, or a hole through the face, is beside it and is the edge margin's business, but an undercut, a hole
    /// drilled in from the side or a hollow inside counts, from the floor and from the walls of the cut. All round up
    /// to 6 mm; what is thicker is measured straight down only. `but`: faces not to look at; `within`: what lies
    /// farther is not looked for, mm.
    [[nodiscard]] std::optional<Wall> wall_behind(const Footprint& mark, std::span<const int> but = {},
                                                  double within = 1000) const;
    /// Where a mark that goes through comes out. Errors: "imprint.blocked".
    [[nodiscard]] Result<FarSide> far_side(const Footprint& mark) const;
    /// The mesh of a body, part coordinates.
    [[nodiscard]] const TriangleTree& mesh_of(int body) const;
    /// How far the mesh may be off the part's curved faces, mm: what is measured there is uncertain by that.
    [[nodiscard]] double mesh_tolerance() const;
    /// Distance the mark may be raised before it meets another face of the part above it (mm); nullopt when free.
    [[nodiscard]] std::optional<double> room_above(const Footprint& mark) const;
    /// The same among the faces of the mark's own body only.
    [[nodiscard]] std::optional<double> room_above_in_body(const Footprint& mark) const;

private:
    struct Impl;
    explicit Obstacles(std::unique_ptr<Impl> impl);
    std::unique_ptr<Impl> impl_;
};

} // namespace touchmark::imprint
