// SPDX-License-Identifier: MIT
#pragma once

#include "core/imprint/planar_walls.h"
#include "core/imprint/site.h"

namespace touchmark::imprint {

/// The surface at a height over that of a face which cannot be rolled out; a point keeps its parameters. Exact for
/// spheres, tori and smooth freeform surfaces. Where a freeform surface is stored in pieces that only meet, offset
/// surfaces are not read back from STEP: there it is a spline within 1e-7 mm of it, in the same parameters.
class ParallelSurface {
public:
    /// Errors: "imprint.failed", where it cannot be.
    [[nodiscard]] static Result<ParallelSurface> at(const Site& site, double height);
    /// `box`: the parameters that are wanted.
    [[nodiscard]] HostSurface over(const Box2& box) const;

private:
    ParallelSurface(const Site& site, double height) : site_(&site), height_(height) {}

    const Site* site_;
    double height_;
    HostSurface exact_; ///< null: to be fitted
};

} // namespace touchmark::imprint
