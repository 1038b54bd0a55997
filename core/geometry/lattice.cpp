// SPDX-License-Identifier: MIT
#include "core/geometry/lattice.h"

namespace touchmark::geometry {

Lattice::Lattice(const Box2& extent) : centre_(extent.centre()) {
    const double half = std::max({extent.width(), extent.height(), 1e-6}) / 2;
    scale_ = std::exp2(std::min(24.0, std::floor(std::log2(0x1p29 / half))));
}

} // namespace touchmark::geometry
