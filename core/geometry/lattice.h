// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/vector.h"

#include <cmath>
#include <polyclipping/clipper.hpp>

namespace touchmark::geometry {

/// The integer lattice on which the polygon clipper works: a power of two of points a millimetre, fine as the extent
/// allows while products still fit 64 bits (2^29 either way from the centre), never finer than 6e-8 mm.
class Lattice {
public:
    explicit Lattice(const Box2& extent);

    [[nodiscard]] ClipperLib::IntPoint to_lattice(Vec2 p) const {
        return {static_cast<ClipperLib::cInt>(std::llround((p.x - centre_.x) * scale_)),
                static_cast<ClipperLib::cInt>(std::llround((p.y - centre_.y) * scale_))};
    }
    [[nodiscard]] Vec2 to_plane(ClipperLib::IntPoint p) const {
        return {static_cast<double>(p.X) / scale_ + centre_.x, static_cast<double>(p.Y) / scale_ + centre_.y};
    }
    /// Lattice points a millimetre.
    [[nodiscard]] double scale() const { return scale_; }

private:
    Vec2 centre_;
    double scale_ = 1;
};

} // namespace touchmark::geometry
