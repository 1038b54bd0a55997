// SPDX-License-Identifier: MIT
#include "core/geometry/bridge_places.h"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace touchmark::geometry {
namespace {

/// Upright ones first; the others have to be better by this much to be taken instead.
struct Direction {
    double degrees, handicap;
};
constexpr Direction directions[] = {{90, 0}, {270, 0}, {0, 1}, {180, 1}, {45, 2.5}, {135, 2.5}, {225, 2.5}, {315, 2.5}};
constexpr double worst_cost = 25; ///< in widths: dearer ones only where a counter would be loose without

/// Which counters hang together, and with what is around the shape (0).
class Held {
public:
    explicit Held(std::size_t holes) : parent_(holes + 1) { std::iota(parent_.begin(), parent_.end(), std::size_t{0}); }
    std::size_t root(std::size_t i) {
        while (parent_[i] != i)
            i = parent_[i] = parent_[parent_[i]];
        return i;
    }
    void join(std::size_t a, std::size_t b) { parent_[root(a)] = root(b); }
    bool held(std::size_t hole) { return root(hole + 1) == root(0); }

private:
    std::vector<std::size_t> parent_;
};

class Choosing {
public:
    Choosing(const Region& region, double width) : finder_(region, width), held_(region.holes.size()) {
        for (std::size_t hole = 0; hole < region.holes.size(); ++hole) {
            std::vector<BridgePlace> places;
            for (const Direction& direction : directions)
                if (auto place = finder_.best(hole, direction.degrees)) {
                    place->cost += direction.handicap;
                    places.push_back(std::move(*place));
                }
            std::ranges::stable_sort(places, {}, &BridgePlace::cost);
            places_.push_back(std::move(places));
        }
    }

    std::vector<BridgePlace> chosen() {
        for (std::size_t hole = 0; hole < places_.size(); ++hole)
            choose(hole);
        for (std::size_t hole = 0; hole < places_.size(); ++hole)
            for (const BridgePlace& place : places_[hole]) {
                if (held_.held(hole)) break;
                if (held_.root(place.target) != held_.root(hole + 1)) take(place);
            }
        return chosen_;
    }

private:
    void take(const BridgePlace& place) {
        held_.join(place.hole + 1, place.target);
        chosen_.push_back(place);
    }
    /// Strips that hold the hole already: its own, and those of others that end in it.
    [[nodiscard]] std::vector<Vec2> holding(std::size_t hole) const {
        std::vector<Vec2> at;
        for (const BridgePlace& place : chosen_)
            if (place.hole == hole || place.target == hole + 1) at.push_back(place.bridge.at);
        return at;
    }
    /// A second one is of use only across the hole from the first.
    [[nodiscard]] bool across(const BridgePlace& place, const std::vector<Vec2>& others, Vec2 centre) const {
        return std::ranges::all_of(others,
                                   [&](Vec2 other) { return dot(place.bridge.at - centre, other - centre) < 0; });
    }
    void choose(std::size_t hole) {
        const std::size_t wanted = finder_.is_small(hole) ? 1 : 2;
        const Vec2 centre = finder_.centre(hole);
        for (const BridgePlace& place : places_[hole]) {
            const auto others = holding(hole);
            if (others.size() >= wanted || place.cost > worst_cost) return;
            if (across(place, others, centre)) take(place);
        }
    }

    BridgeFinder finder_;
    Held held_;
    std::vector<std::vector<BridgePlace>> places_; ///< for each hole, the best first
    std::vector<BridgePlace> chosen_;
};

Contour frame_around(const Region& region, double margin) {
    return contour_of(bounds(region.outer).widened(margin).corners());
}

/// The region without these shapes, made on what is not the region: there they and the surroundings are united, which
/// keeps every curve that none of them meets.
Result<Outline> without(const Region& region, const std::vector<Polygon>& shapes, double width) {
    const Contour frame = frame_around(region, 2 * width);
    std::vector<Contour> around{frame, reversed(region.outer)};
    for (const Contour& hole : region.holes)
        around.push_back(reversed(hole));
    for (const Polygon& shape : shapes)
        around.push_back(contour_of(shape));
    const auto united = outline_from(std::move(around));
    if (!united) return united;
    const double crumb = width * width / 50; // a speck of stroke cut off between a strip and a bend
    std::vector<Contour> contours;
    const Vec2 corner = frame.segments.front().start();
    for (const Region& piece : united->regions) {
        const bool outside = length(bounds(piece.outer).low - corner) < width;
        if (!outside) contours.push_back(reversed(piece.outer));
        for (const Contour& hole : piece.holes)
            if (std::abs(area(hole)) > crumb) contours.push_back(reversed(hole));
    }
    return outline_from(std::move(contours));
}

Box2 box_of(const Polygon& polygon) {
    Box2 box;
    for (const Vec2 p : polygon)
        box.add(p);
    return box;
}

/// What is left of the strokes beside the strips and is too thin to be worth cutting: thin ribbons, long points.
std::vector<Polygon> slivers(const Outline& pieces, const std::vector<Polygon>& strips, double width) {
    const double half = width / 5; // of the thinnest ribbon that stays
    const Outline sturdy = grown(grown(pieces, -half), half * 1.02);
    std::vector<Polygon> found;
    for (const Region& thin : difference(pieces, sturdy).regions) {
        const Box2 box = bounds(thin.outer);
        const bool beside =
            std::ranges::any_of(strips, [&](const Polygon& strip) { return box_of(strip).widened(half).meets(box); });
        // Every convex corner leaves a speck of a fifth of half² or so.
        if (!beside || area(thin.outer) < half * half / 2) continue;
        const Outline whole = grown(Outline{{thin}}, width / 100);
        for (const Region& one : whole.regions)
            found.push_back(flattened(one.outer, width / 200));
    }
    return found;
}

Result<Outline> pieces_of(const Region& region, const std::vector<BridgePlace>& places, double width) {
    std::vector<Polygon> shapes;
    for (const BridgePlace& place : places)
        shapes.push_back(place.strip);
    auto pieces = without(region, shapes, width);
    if (!pieces) return pieces;
    const auto thin = slivers(*pieces, shapes, width);
    if (thin.empty()) return pieces;
    shapes.insert(shapes.end(), thin.begin(), thin.end());
    return without(region, shapes, width);
}

} // namespace

Bridged bridged(const Outline& outline, double width) {
    Bridged bridged;
    for (std::size_t i = 0; i < outline.regions.size(); ++i) {
        const Region& region = outline.regions[i];
        Choosing choosing(region, width);
        const auto places = choosing.chosen();
        auto pieces = places.empty() ? Result<Outline>(Outline{{region}}) : pieces_of(region, places, width);
        if (!pieces) pieces = Outline{{region}};
        bridged.from.insert(bridged.from.end(), pieces->regions.size(), i);
        for (const Region& piece : pieces->regions)
            bridged.loose += piece.holes.size();
        std::ranges::move(pieces->regions, std::back_inserter(bridged.outline.regions));
        for (const BridgePlace& place : places)
            bridged.bridges.push_back(place.bridge);
    }
    return bridged;
}

} // namespace touchmark::geometry
