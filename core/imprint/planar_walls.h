// SPDX-License-Identifier: MIT
#pragma once

// The faces of a mark on a plane, made straight from its outline: edges are the outline's own lines and Béziers, walls
// planes and extrusions of them. Every edge carries an explicit curve in the parameters of each of its surfaces; planes
// would do without, but the STEP writer is several times slower then.

#include "core/geometry/outline.h"

#include <Geom_Surface.hxx>
#include <TopLoc_Location.hxx>
#include <TopoDS_Face.hxx>
#include <TopoDS_Solid.hxx>
#include <TopoDS_Wire.hxx>
#include <gp_Pln.hxx>

#include <span>
#include <vector>

namespace touchmark::imprint {

/// The surface that the rims lie on: as stored in the host face, with the location under which it lies in the product.
struct HostSurface {
    Handle(Geom_Surface) surface;
    TopLoc_Location location;
    gp_Pln plane; ///< the surface without the location
};

/// Flat whatever its storage; a surface that is not stored as a plane is replaced by the plane of `frame`, reversed as
/// the face is.
[[nodiscard]] HostSurface host_surface(const TopoDS_Face& host, const Frame& frame);

struct RegionRims {
    TopoDS_Wire outer;              ///< on the host, counter-clockwise seen from outside
    std::vector<TopoDS_Wire> holes; ///< clockwise
};

struct Walls {
    std::vector<TopoDS_Face> walls, floors; ///< oriented out of the material
    std::vector<RegionRims> rims;           ///< one entry a region
};

/// `offset`: the floor's height over the plane of `frame`; negative for a cut.
[[nodiscard]] Walls build_walls(const Frame& frame, const HostSurface& host, std::span<const geometry::Region> regions,
                                double offset);

/// A closed prism of one region from `bottom` to `top` over the plane of `frame`.
[[nodiscard]] TopoDS_Solid build_prism(const Frame& frame, const geometry::Region& region, double bottom, double top);

/// The body that walls and floors enclose with `base`.
[[nodiscard]] TopoDS_Solid closed_body(const Walls& walls, const TopoDS_Face& base);

/// A face without wires yet; add them as they run with the face's orientation (outer ones counter-clockwise seen from
/// outside).
[[nodiscard]] TopoDS_Face face_on(const HostSurface& host, double tolerance, TopAbs_Orientation orientation);

} // namespace touchmark::imprint
