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

#include <optional>
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

/// The same for a face that need not be flat.
[[nodiscard]] std::optional<HostSurface> flat_surface(const TopoDS_Face& face);

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

/// Heights of another plane over the mark's, by the place on the mark's.
struct Heights {
    double at_origin = 0;
    Vec2 slope;
    [[nodiscard]] double at(Vec2 p) const { return at_origin + dot(slope, p); }
};

struct Openings {
    Walls walls;                       ///< without floors
    std::vector<TopoDS_Wire> far_rims; ///< one a region, on the far plane; they run as the rims do
};

/// Walls down to another flat face, whatever its tilt. REQUIRES: regions without holes; the far plane is below all of
/// them.
[[nodiscard]] Openings build_openings(const Frame& frame, const HostSurface& host, const HostSurface& far,
                                      const Heights& heights, std::span<const geometry::Region> regions);

/// A closed prism of one region from `bottom` to `top` over the plane of `frame`.
[[nodiscard]] TopoDS_Solid build_prism(const Frame& frame, const geometry::Region& region, double bottom, double top);

/// The body that walls and floors enclose with `base`.
[[nodiscard]] TopoDS_Solid closed_body(const Walls& walls, const TopoDS_Face& base);

/// A face without wires yet; add them as they run with the face's orientation (outer ones counter-clockwise seen from
/// outside).
[[nodiscard]] TopoDS_Face face_on(const HostSurface& host, double tolerance, TopAbs_Orientation orientation);

} // namespace touchmark::imprint
