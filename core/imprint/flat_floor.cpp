// SPDX-License-Identifier: MIT
#include "core/imprint/flat_floor.h"

#include "core/base/number_text.h"
#include "core/imprint/outline_points.h"
#include "core/surface/segment_tree.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace touchmark::imprint {
namespace {

/// Looks for the greatest value of a function under an outline, to some 1e-9 of it.
template <class Function> class Highest {
public:
    explicit Highest(const Function& value) : value_(value) {}

    [[nodiscard]] double best() const { return best_; }
    void along(const geometry::Contour& contour) {
        for (const geometry::Segment& segment : contour.segments) {
            int top = 0;
            double value = -1e300;
            for (int k = 0; k <= probes; ++k)
                if (const double v = value_(geometry::point_at(segment, static_cast<double>(k) / probes)); v > value) {
                    value = v;
                    top = k;
                }
            if (value + room_for(segment) > best_) refine(segment, top);
        }
    }
    void inside(const std::vector<geometry::Polygon>& polygons) {
        constexpr double spacing = 0.5; // mm
        std::optional<Vec2> top;
        double value = -1e300;
        for (const Vec2 p : within_outline(polygons, spacing))
            if (const double v = value_(p); v > value) {
                value = v;
                top = p;
            }
        if (!top) return;
        const surface::SegmentTree tree(polygons);
        for (double step = spacing; step > 1e-6;) {
            bool moved = false;
            for (const Vec2 by : {Vec2{step, 0}, Vec2{-step, 0}, Vec2{0, step}, Vec2{0, -step}}) {
                const double v = value_(*top + by);
                if (v <= value || !tree.inside(*top + by)) continue;
                value = v;
                top = *top + by;
                moved = true;
            }
            if (!moved) step /= 2;
        }
        best_ = std::max(best_, value);
    }

private:
    static constexpr int probes = 12;
    /// No more than that can a segment rise between its probes.
    [[nodiscard]] static double room_for(const geometry::Segment& segment) {
        return geometry::bounds(geometry::Contour{{segment}}).width() / probes +
               geometry::bounds(geometry::Contour{{segment}}).height() / probes;
    }
    void refine(const geometry::Segment& segment, int top) {
        double low = std::max(0.0, (top - 1.0) / probes), high = std::min(1.0, (top + 1.0) / probes);
        const auto at = [&](double t) { return value_(geometry::point_at(segment, t)); };
        for (int k = 0; k < 40; ++k) {
            const double a = low + (high - low) / 3, b = high - (high - low) / 3;
            (at(a) < at(b) ? low : high) = at(a) < at(b) ? a : b;
        }
        best_ = std::max({best_, at(0), at(1), at((low + high) / 2)});
    }

    const Function& value_;
    double best_ = -1e300;
};

template <class Function> double highest_under(const geometry::Outline& outline, const Function& value) {
    Highest<Function> search(value);
    for (const geometry::Region& region : outline.regions) {
        search.along(region.outer);
        for (const geometry::Contour& hole : region.holes)
            search.along(hole);
    }
    search.inside(geometry::flattened(outline, 5e-3));
    return search.best();
}

} // namespace

bool has_flat_floor(const Footprint& mark) {
    return mark.floor == Floor::flat && (mark.mode == Mode::engrave || mark.mode == Mode::raise) && mark.map &&
           (mark.map->unrolling() || mark.map->chart());
}

FlatFloor flat_floor(const Footprint& mark) {
    const surface::FaceMap& map = *mark.map;
    FlatFloor floor;
    const Vec3 z = map.normal(mark.anchor), x = map.x_direction(mark.anchor);
    floor.frame = {map.point(mark.anchor), x, cross(z, x), z};
    floor.highest = highest_under(mark.outline, [&](Vec2 p) { return floor.above(map.point(p)); });
    floor.lowest = -highest_under(mark.outline, [&](Vec2 p) { return -floor.above(map.point(p)); });
    const double lean = -highest_under(mark.outline, [&](Vec2 p) { return -dot(map.normal(p), z); });
    floor.steepest = std::acos(std::clamp(lean, -1.0, 1.0)) * 180 / std::numbers::pi;
    floor.height = mark.mode == Mode::raise ? floor.highest + mark.depth.value : floor.lowest - mark.depth.value;
    return floor;
}

Status within_reach(const Footprint& mark, const FlatFloor& floor) {
    constexpr double most = 60; // degrees; the walls would be all but along the face
    if (floor.steepest <= most) return {};
    return fail("imprint.depth",
                "\"" + mark.name + "\" reaches to where its face leans " +
                    text_of(Degrees(std::round(floor.steepest))) +
                    " from its middle; for a flat floor that may be no more than " + text_of(Degrees(most)) + ".",
                "Make it smaller, or let the floor follow the face.");
}

} // namespace touchmark::imprint
