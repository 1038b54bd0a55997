// SPDX-License-Identifier: MIT
#pragma once

// What lies under or over a footprint, among triangles. Internal to clearance.

#include "core/imprint/clearance.h"
#include "core/imprint/triangle_tree.h"
#include "core/surface/segment_tree.h"

#include <algorithm>

namespace touchmark::imprint {

/// A footprint made ready for questions: its outline and the face's room as trees, points in map mm and height.
class FootprintArea {
public:
    /// `mesh_tolerance`: how far the triangles may be off the surface, mm.
    explicit FootprintArea(const Footprint& mark, double mesh_tolerance = 0);
    /// x, y in map mm; z the height over the face.
    [[nodiscard]] Vec3 own(const Vec3& p) const;
    [[nodiscard]] Vec3 space(const Vec3& own) const;
    [[nodiscard]] Box3 own(const Box3& box) const;

    [[nodiscard]] bool owns(int face) const { return std::ranges::find(faces, face) != faces.end(); }

    double depth;
    double beside;          ///< so far inside the room's edge still counts as beside the face, mm
    std::vector<int> faces; ///< the mark's own
    surface::SegmentTree outline, room;
    Box2 box, room_box;

private:
    FootprintArea(const Footprint& mark, double mesh_tolerance, const std::vector<geometry::Polygon>& outline,
                  const std::vector<geometry::Polygon>& room);
    Frame frame_;
};

/// Least material between a cut and whatever of the triangles lies beneath the face: inside the room's outline seen
/// along the normal, by more than a hair. Beside the room is the business of the edge margin. nullopt when nothing is
/// nearer than `within`. `mesh_tolerance`: how far the triangles may be off the surface, mm.
[[nodiscard]] std::optional<Obstacles::Wall> nearest_wall(const Footprint& mark, double mesh_tolerance,
                                                          const TriangleTree& tree, double within,
                                                          std::span<const int> but = {});

/// Height at which the footprint, moved along the normal, first meets a triangle.
[[nodiscard]] std::optional<double> lowest_roof(const Footprint& mark, const TriangleTree& tree, double within);

} // namespace touchmark::imprint
