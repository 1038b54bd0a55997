// SPDX-License-Identifier: MIT
#include "core/imprint/freeform_limits.h"

#include "core/base/number_text.h"
#include "core/imprint/extent.h"
#include "core/imprint/flat_floor.h"
#include "core/imprint/outline_points.h"
#include "core/surface/chart.h"

#include <algorithm>
#include <cmath>

namespace touchmark::imprint {
namespace {

Error reaches_too_far(const Footprint& mark) {
    return {"imprint.outside",
            "\"" + mark.name + "\" goes farther round its face than an outline can be laid on it without folds.",
            "Make it smaller, or move it away from poles and tips of the face."};
}

Error too_deep(const Footprint& mark, double height, double radius) {
    return {"imprint.depth",
            "\"" + mark.name + "\" is " + text_of(Mm(std::abs(height))) + (takes_away(mark.mode) ? " deep" : " high") +
                ", but under it the face is curved with a radius of only " + text_of(Mm(radius)) + ".",
            "Make it shallower, or move it to where the face is flatter."};
}

Status check(const Footprint& mark) {
    constexpr double spacing = 0.5, least = 0.05; // mm
    const surface::Chart& chart = *mark.map->chart();
    const surface::SurfaceEvaluator& surface = surface::evaluator_of(chart.face());
    const double height = extent_of(mark).reach();
    const bool flat = has_flat_floor(mark);
    double smallest = 1e300;
    for (const Vec2 p : points_of(mark.outline, spacing)) {
        if (!chart.holds(p)) return std::unexpected(reaches_too_far(mark));
        if (flat) continue; // walls that are parallel do not meet
        const auto at = surface.second(chart.parameters(p));
        const auto [low, high] = surface::curvatures(at, surface.normal(at.du, at.dv));
        for (const double curvature : {low, high})
            if (curvature * height < 0) smallest = std::min(smallest, 1 / std::abs(curvature));
    }
    if (std::abs(height) > smallest - least) return std::unexpected(too_deep(mark, height, smallest));
    return {};
}

} // namespace

Status within_curvature(std::span<const Footprint> marks) {
    for (const Footprint& mark : marks)
        if (mark.map->chart())
            if (const Status good = check(mark); !good) return good;
    return {};
}

} // namespace touchmark::imprint
