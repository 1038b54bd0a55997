// SPDX-License-Identifier: MIT
#include "core/imprint/wall_shape.h"

#include "core/base/quadrature.h"

#include <cmath>
#include <numbers>

namespace touchmark::imprint {

double WallShape::reach() const {
    return bands_of(*this).back().to.inset;
}

WallLevel WallBand::at(double q) const {
    if (round) return {centre.depth + radius * std::sin(q), centre.inset - radius * std::cos(q)};
    const double part = q_to > q_from ? (q - q_from) / (q_to - q_from) : 0;
    return {from.depth + (to.depth - from.depth) * part, from.inset + (to.inset - from.inset) * part};
}

std::vector<WallBand> bands_of(const WallShape& shape, double above) {
    std::vector<WallBand> bands;
    const auto straight = [&](WallLevel from, WallLevel to) {
        WallBand band{from, to, false, 0, {}, 0, std::hypot(to.depth - from.depth, to.inset - from.inset)};
        constexpr double hair = 1e-9; // mm
        if (band.q_to > hair) bands.push_back(band);
    };
    const double angle = std::atan(shape.slope);
    const double begins = shape.depth - shape.rounding * (1 - std::sin(angle));
    const WallLevel foot{begins, shape.slope * begins};
    if (above > 0) straight({-above, 0}, {0, 0});
    straight({0, 0}, foot);
    if (shape.rounding > 0) {
        WallBand arc;
        arc.round = true;
        arc.radius = shape.rounding;
        arc.centre = {shape.depth - shape.rounding, foot.inset + shape.rounding * std::cos(angle)};
        arc.from = foot;
        arc.to = {shape.depth, arc.centre.inset};
        arc.q_from = angle;
        arc.q_to = std::numbers::pi / 2;
        bands.push_back(arc);
    }
    return bands;
}

double shaped_volume(const geometry::InsetRegion& region, const WallShape& shape) {
    double volume = 0;
    for (const WallBand& band : bands_of(shape))
        for (const auto& [at, weight] : gauss_8) {
            const double q = band.q_from + (band.q_to - band.q_from) * (at + 1) / 2;
            const WallLevel level = band.at(q);
            // d depth / dq
            const double sinking =
                band.round ? band.radius * std::cos(q) : (band.to.depth - band.from.depth) / (band.q_to - band.q_from);
            volume += weight / 2 * (band.q_to - band.q_from) * sinking * region.area(level.inset);
        }
    return volume;
}

} // namespace touchmark::imprint
