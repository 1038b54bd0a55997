// SPDX-License-Identifier: MIT
#include "core/print/layers.h"

#include "core/print/layer_models.h"

#include <algorithm>
#include <cmath>
#include <tuple>

namespace touchmark::print {

Extra& Extra::operator+=(const Extra& other) {
    islands += other.islands;
    outlines += other.outlines;
    travels += other.travels;
    retractions += other.retractions;
    first_layer_islands += other.first_layer_islands;
    raised_islands += other.raised_islands;
    outline_mm += other.outline_mm;
    path_mm += other.path_mm;
    travel_mm += other.travel_mm;
    unsupported_mm += other.unsupported_mm;
    seconds += other.seconds;
    waited_s += other.waited_s;
    if (other.smallest_island_mm2)
        smallest_island_mm2 =
            std::min(smallest_island_mm2.value_or(*other.smallest_island_mm2), *other.smallest_island_mm2);
    return *this;
}

double tour_length(std::vector<Vec2> places) {
    if (places.size() < 2) return 0;
    const auto first = std::ranges::min_element(places, {}, [](Vec2 p) { return std::tuple(p.y, p.x); });
    Vec2 at = *first;
    *first = places.back();
    places.pop_back();
    double sum = 0;
    while (!places.empty()) {
        const auto next = std::ranges::min_element(places, {}, [&](Vec2 p) {
            return std::tuple(std::llround(distance(p, at) * 1e3), p.y, p.x); // of several alike the lowest
        });
        sum += distance(at, *next);
        at = *next;
        *next = places.back();
        places.pop_back();
    }
    return sum;
}

void time_layer(const Bench& bench, Layer& layer) {
    Extra& extra = layer.extra;
    extra.travels = extra.outlines;
    extra.retractions = extra.islands;
    const process::Printing& figures = bench.figures();
    extra.seconds = extra.path_mm / figures.speed_mm_s.value + extra.travel_mm / figures.travel_mm_s.value +
                    static_cast<double>(extra.retractions) * figures.retraction_s.value;
}

Result<Layers> layers_of(const geometry::Outline& outline, const Standing& standing, const process::Process& process,
                         const LayersOptions& options, const Progress& progress) {
    Layers out;
    const Result<Bench> bench = laid_out(outline, standing, process, out.from_mark);
    if (!bench) return std::unexpected(bench.error());
    out.across = is_layered(standing.zone);
    const Status done =
        out.across ? section_regions(*bench, options, out, progress) : flat_regions(*bench, options, out, progress);
    if (!done) return std::unexpected(done.error());
    for (const Layer& layer : out.layers)
        out.extra += layer.extra;
    return out;
}

} // namespace touchmark::print
