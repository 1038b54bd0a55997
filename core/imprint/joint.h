// SPDX-License-Identifier: MIT
#pragma once

// Edges between faces of one surface, over which a mark may lie.

#include "core/geometry/contour.h"
#include "core/imprint/site.h"

#include <TopoDS_Edge.hxx>
#include <TopoDS_Face.hxx>

#include <array>
#include <span>
#include <vector>

namespace touchmark::imprint {

using Stretch = std::array<Vec2, 2>;

/// Straight in the mark's plane, rolled out.
struct Joint {
    TopoDS_Edge edge;
    std::array<std::size_t, 2> faces{}; ///< that it parts
    std::vector<Stretch> lines;         ///< mark's mm; on a closed face on the turns beside as well
};

struct Joints {
    std::vector<Joint> joints;
    std::vector<Stretch> closed; ///< other edges between or within the faces, over which nothing can be joined
};

/// Of faces that lie on the site's plane, cylinder or cone.
[[nodiscard]] Joints joints_of(std::span<const TopoDS_Face> faces, const Site& site);

/// The mark's mm of a point of the product; on a closed face within half a turn of its middle.
[[nodiscard]] Vec2 flat(const Site& site, const Vec3& p);
/// The same on the turns beside, too.
[[nodiscard]] std::vector<Vec2> flat_on_turns(const Site& site, const Vec3& p);

/// The contour with its segments split where they cross a joint. False where it touches one, runs along it, or passes
/// near its end.
[[nodiscard]] bool split_at(std::span<const Joint> joints, geometry::Contour& contour);

} // namespace touchmark::imprint
