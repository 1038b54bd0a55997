// SPDX-License-Identifier: MIT
#pragma once

// A mark seen from the product that it changes.

#include "core/imprint/imprint.h"
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
    geometry::Outline outline;
    double depth = 0;
};

[[nodiscard]] Site site_of(const Footprint& mark, const TopLoc_Location& placing);

} // namespace touchmark::imprint
