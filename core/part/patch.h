// SPDX-License-Identifier: MIT
#pragma once

// Points of a piece of a surface, for recognising what it is.

#include "core/base/vector.h"

#include <BRepAdaptor_Surface.hxx>

#include <vector>

namespace touchmark::part {

struct PatchPoint {
    Vec3 at, du, dv;
};

/// What a surface covers within a range of its parameters, in the coordinates of its face's product.
class Patch {
public:
    /// Over all of the surface's own range, or what the adaptor is restricted to.
    explicit Patch(const BRepAdaptor_Surface& surface);

    [[nodiscard]] bool is_finite() const;
    /// `count` by `count`, evenly, half a step away from its sides.
    [[nodiscard]] std::vector<PatchPoint> spread(int count) const;
    /// Some in every span in which the surface is one polynomial, and on its sides: other places than spread() gives.
    [[nodiscard]] std::vector<PatchPoint> dense() const;
    /// At the least parameters.
    [[nodiscard]] PatchPoint corner() const { return point(u_.front(), v_.front()); }

private:
    [[nodiscard]] PatchPoint point(double u, double v) const;

    const BRepAdaptor_Surface& surface_;
    std::vector<double> u_, v_; ///< ends of the spans, ascending
};

} // namespace touchmark::part
