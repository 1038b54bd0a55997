// SPDX-License-Identifier: MIT
#include "core/imprint/freeform_walls.h"
#include "core/imprint/parameter_integral.h"

#include <cmath>

namespace touchmark::imprint {
namespace {

/// What stands over a surface element between two heights.
class Density {
public:
    Density(const Site& site, double bottom, double top)
        : surface_(site.chart->face(), site.chart->face().location.Transformation()), once_(top - bottom),
          twice_(top * top - bottom * bottom), thrice_((top * top * top - bottom * bottom * bottom) / 3) {}

    [[nodiscard]] double operator()(Vec2 uv) const {
        const auto at = surface_.second(uv);
        const auto [least, most] = surface::curvatures(at, surface_.normal(at.du, at.dv));
        return length(cross(at.du, at.dv)) * (once_ + (least + most) / 2 * twice_ + least * most * thrice_);
    }

private:
    surface::SurfaceEvaluator surface_;
    double once_, twice_, thrice_;
};

} // namespace

double freeform_volume(const Site& site, const geometry::Region& region, double bottom, double top) {
    const CurveCarrier carrier(site, bottom, top);
    std::vector<std::array<Vec2, 6>> boundary;
    const auto add = [&](const geometry::Contour& contour) {
        for (const CarriedCurve& curve : carrier.carried(contour))
            boundary.push_back(curve.uv);
    };
    add(region.outer);
    for (const geometry::Contour& hole : region.holes)
        add(hole);
    const surface::CurvedFace& face = site.chart->face();
    return std::abs(integral_over(boundary, face.breaks_u, face.breaks_v, Density(site, bottom, top)));
}

} // namespace touchmark::imprint
