// SPDX-License-Identifier: MIT
#pragma once

// A mark seen from the product that it changes.

#include "core/imprint/extent.h"
#include "core/imprint/flat_floor.h"
#include "core/surface/chart.h"
#include "core/surface/unrolling.h"

#include <TopLoc_Location.hxx>
#include <gp_Pnt.hxx>
#include <gp_Trsf.hxx>

namespace touchmark::imprint {

/// The mark's plane in the product's coordinates: right-handed, z out of the material. The outline is in this plane,
/// whatever the placing of the product does (an occurrence may be mirrored).
struct Site {
    Frame frame;                                 ///< on a round face only where its origin is
    std::optional<surface::Unrolling> unrolling; ///< of a cylinder or cone
    const surface::Chart* chart = nullptr;       ///< of another curved face; the footprint's map keeps it
    geometry::Outline outline;
    double scale = 1;                    ///< product mm a part mm
    Extent extent;                       ///< not of Mode::through
    std::optional<WallShape> shape = {}; ///< where the walls are not plain
    std::optional<FlatFloor> flat = {};  ///< where the mark ends in a plane
    bool mirrored = false;

    /// The mark's mm of a place of the outline, and back.
    [[nodiscard]] Vec2 in_mark(Vec2 own) const { return {own.x / scale, (mirrored ? -own.y : own.y) / scale}; }
    [[nodiscard]] Vec2 from_mark(Vec2 at) const { return {at.x * scale, (mirrored ? -at.y : at.y) * scale}; }
};

[[nodiscard]] std::vector<geometry::Region> picked(const geometry::Outline& outline,
                                                   std::span<const std::size_t> which);

/// What lies over a region of the site between two heights, product mm³, from the outline alone.
[[nodiscard]] double volume_between(const Site& site, const geometry::Region& region, double bottom, double top);

/// What the mark takes away or adds there, product mm³, from the outline alone. REQUIRES: not Mode::through.
[[nodiscard]] double volume_of(const Site& site, const geometry::Region& region);

/// "imprint.route": the direct one is asked for and does not apply.
[[nodiscard]] std::unexpected<Error> not_direct(const Footprint& mark);

[[nodiscard]] Site site_of(const Footprint& mark, const TopLoc_Location& placing);

} // namespace touchmark::imprint
