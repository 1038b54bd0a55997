// SPDX-License-Identifier: MIT
#include "core/geometry/bridge_places.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace touchmark::geometry {
namespace {

constexpr double endless = std::numeric_limits<double>::infinity();
constexpr int lines_across = 9;  ///< along which a strip is looked at
constexpr int places_tried = 25; ///< over the width of the counter

/// Where a line along the direction passes a contour.
struct Crossing {
    double at = 0;
    std::size_t contour = 0;
};

/// Of an upright line; every other stretch between crossings is stroke.
std::vector<Crossing> crossings_at(double x, const std::vector<Polygon>& contours) {
    std::vector<Crossing> found;
    for (std::size_t k = 0; k < contours.size(); ++k) {
        const Polygon& polygon = contours[k];
        for (std::size_t i = 0; i < polygon.size(); ++i) {
            const Vec2 a = polygon[i], b = polygon[(i + 1) % polygon.size()];
            if ((a.x <= x) == (b.x <= x)) continue;
            found.push_back({a.y + (b.y - a.y) * (x - a.x) / (b.x - a.x), k});
        }
    }
    std::ranges::sort(found, {}, &Crossing::at);
    return found;
}

/// The stroke over a counter along one line: from `low` to `high`, free beneath as far as `beneath`, above to `above`.
struct Stretch {
    double beneath = 0, low = 0, high = 0, above = endless;
    std::size_t target = 0; ///< the contour at its far end
};

/// Over the topmost part of the hole; `hole` is the contour's number.
std::optional<Stretch> over_hole(const std::vector<Crossing>& crossings, std::size_t hole) {
    for (std::size_t i = crossings.size(); i-- > 3;) {
        // i: the far end of a stroke whose near end, i - 1, bounds a part of the hole.
        if (i % 2 == 0 || crossings[i - 1].contour != hole || crossings[i - 2].contour != hole) continue;
        return Stretch{crossings[i - 2].at, crossings[i - 1].at, crossings[i].at,
                       i + 1 < crossings.size() ? crossings[i + 1].at : endless, crossings[i].contour};
    }
    return std::nullopt;
}

/// Beside a hole that is narrower than the strip: the stroke in which the line is at that height.
std::optional<Stretch> beside_hole(const std::vector<Crossing>& crossings, double height) {
    for (std::size_t i = 1; i < crossings.size(); i += 2)
        if (crossings[i - 1].at < height && crossings[i].at > height)
            return Stretch{-endless, height, crossings[i].at, i + 1 < crossings.size() ? crossings[i + 1].at : endless,
                           crossings[i].contour};
    return std::nullopt;
}

Box2 box_of(const Polygon& polygon) {
    Box2 box;
    for (const Vec2 p : polygon)
        box.add(p);
    return box;
}

/// A strip about the line at x.
struct Strip {
    double low = endless, high = -endless, beneath = -endless, above = endless, spread = 0;
    std::size_t target = 0;
};

std::optional<Strip> strip_at(double x, double width, const std::vector<Polygon>& contours, std::size_t hole) {
    const Box2 extent = box_of(contours[hole]);
    const auto middle = over_hole(crossings_at(x, contours), hole);
    if (!middle || middle->target == hole) return std::nullopt;
    Strip strip;
    strip.target = middle->target;
    double latest_low = -endless, earliest_high = endless;
    for (int i = 0; i < lines_across; ++i) {
        const double at = x + width * 0.998 * (static_cast<double>(i) / (lines_across - 1) - 0.5);
        const bool over = at > extent.low.x && at < extent.high.x;
        const auto crossings = crossings_at(at, contours);
        const auto stretch = over ? over_hole(crossings, hole) : beside_hole(crossings, middle->low);
        if (!stretch || stretch->target != middle->target) return std::nullopt;
        if (!over && extent.width() > width) return std::nullopt;
        strip.low = std::min(strip.low, stretch->low);
        strip.high = std::max(strip.high, stretch->high);
        strip.beneath = std::max(strip.beneath, stretch->beneath);
        strip.above = std::min(strip.above, stretch->above);
        latest_low = std::max(latest_low, stretch->low);
        earliest_high = std::min(earliest_high, stretch->high);
    }
    // Its ends have to be in the free on every line, or it would cut into what is no stroke of its own.
    if (!(strip.above > strip.high) || !(strip.beneath < strip.low) || latest_low >= earliest_high) return std::nullopt;
    strip.spread = (latest_low - strip.low) + (strip.high - earliest_high);
    return strip;
}

} // namespace

BridgeFinder::BridgeFinder(const Region& region, double width) : width_(width) {
    const double tolerance = width / 200;
    contours_.push_back(flattened(region.outer, tolerance));
    for (const Contour& hole : region.holes)
        contours_.push_back(flattened(hole, tolerance));
}

bool BridgeFinder::is_small(std::size_t hole) const {
    const Box2 box = box_of(contours_[hole + 1]);
    return std::min(box.width(), box.height()) < 2.5 * width_;
}

Vec2 BridgeFinder::centre(std::size_t hole) const {
    return box_of(contours_[hole + 1]).centre();
}

std::optional<BridgePlace> BridgeFinder::best(std::size_t hole, double direction) const {
    // Turned so that the direction is up.
    const double angle = (90 - direction) * std::numbers::pi / 180;
    const Affine turn = Affine::rotation(angle), back = Affine::rotation(-angle);
    std::vector<Polygon> contours = contours_;
    for (Polygon& polygon : contours)
        for (Vec2& p : polygon)
            p = turn(p);
    const Box2 box = box_of(contours[hole + 1]);
    const double room = std::max(0.0, box.width() - width_ * 1.05);
    std::optional<BridgePlace> best;
    for (int i = 0; i < places_tried; ++i) {
        // A hair aside, so that no line runs along an edge.
        const double x = box.centre().x + room * (static_cast<double>(i) / (places_tried - 1) - 0.5) + width_ * 3.7e-4;
        const auto strip = strip_at(x, width_, contours, hole + 1);
        if (!strip) continue;
        const double length = strip->high - strip->low;
        const double cost =
            length / width_ + 3 * strip->spread / width_ + std::abs(x - box.centre().x) / std::max(box.width(), width_);
        if (best && cost >= best->cost) continue;
        const double over = std::min(0.25 * width_, (strip->above - strip->high) / 2);
        const double under = std::min(0.25 * width_, (strip->low - strip->beneath) / 2);
        const double left = x - width_ / 2, right = x + width_ / 2;
        best = BridgePlace{{back({x, (strip->low + strip->high) / 2}), width_, length},
                           {back({left, strip->low - under}), back({right, strip->low - under}),
                            back({right, strip->high + over}), back({left, strip->high + over})},
                           hole,
                           strip->target,
                           cost};
    }
    return best;
}

} // namespace touchmark::geometry
