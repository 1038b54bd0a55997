// SPDX-License-Identifier: MIT
#include "core/base/progress.h"
#include "core/print/coverage.h"
#include "core/print/distances.h"
#include "core/print/models.h"

#include <algorithm>
#include <cmath>
#include <future>
#include <numbers>

namespace touchmark::print {
namespace {

using geometry::Outline;

Field shown(const Bench& bench, const Outline& figure) {
    return blurred(coverage(geometry::flattened(figure, flat_within), bench.grid), bench.smoothing_mm(),
                   bench.smoothing_mm());
}

/// A raised figure that stands by itself, or what a cut leaves standing within it.
template <class Visit> void each_island(const Bench& bench, Outline& figure, Visit&& visit) {
    for (geometry::Region& region : figure.regions) {
        if (bench.raised())
            visit(region, std::abs(geometry::area(region.outer)));
        else
            std::erase_if(region.holes,
                          [&](const geometry::Contour& hole) { return visit(region, std::abs(geometry::area(hole))); });
    }
}

/// Islands of the first layer too small to hold on the plate.
std::size_t take_off_small(const Bench& bench, Outline& figure) {
    const double least = bench.figures().least_island_mm2.value;
    std::size_t lost = 0;
    each_island(bench, figure, [&](const geometry::Region&, double area) {
        lost += area < least;
        return area < least;
    });
    if (bench.raised())
        std::erase_if(figure.regions,
                      [&](const geometry::Region& region) { return std::abs(geometry::area(region.outer)) < least; });
    return lost;
}

struct Layer {
    Field shown;
    std::size_t lost_islands = 0;
};

Layer first_layer(const Bench& bench) {
    Outline on_plate = laid(bench, bench.figures().first_layer_spread_mm.value);
    const std::size_t lost = take_off_small(bench, on_plate);
    return {shown(bench, on_plate), lost};
}

std::size_t count_islands(const Bench& bench, Outline figure) {
    std::size_t count = 0;
    each_island(bench, figure, [&](const geometry::Region&, double) {
        ++count;
        return false;
    });
    return count;
}

/// Lines lie side by side across a top.
void add_lines(const Bench& bench, Field& relief) {
    const double groove = bench.figures().ripple.value * bench.process->layer_height_mm.value;
    for (int row = 0; row < relief.grid.rows; ++row)
        for (int x = 0; x < relief.grid.columns; ++x) {
            const Vec2 p = relief.grid.middle(x, row);
            const double lines = (p.x + p.y) / std::numbers::sqrt2 / bench.line_width();
            const double from_middle = std::abs(lines - std::floor(lines) - 0.5) * 2;
            relief.at(x, row) -= static_cast<float>(groove * from_middle * from_middle);
        }
}

/// The roof of a void hangs between its banks: in the middle of a strip as much as a line that spans its width, and
/// evenly less towards them.
void sag_into(const Bench& bench, Field& voids) {
    std::vector<char> open;
    const float half = *std::ranges::max_element(voids.values) / 2;
    for (const float height : voids.values)
        open.push_back(half > 0 && height > half);
    const Field to_bank = distances(voids.grid, open);
    const auto share = static_cast<float>(2 * bench.figures().bridge_sag.value);
    for (std::size_t i = 0; i < voids.values.size(); ++i)
        voids.values[i] = std::max(0.0F, voids.values[i] - share * to_bank.values[i]);
}

} // namespace

Outline laid(const Bench& bench, double spread) {
    constexpr double off = 3e-3; // mm: little of a cell
    if (bench.raised()) {
        const double half = bench.figures().least_line_mm.value / 2;
        return geometry::grown(geometry::grown(bench.outline, -half, off), half + spread, off);
    }
    const double half = bench.line_width() / 2;
    return geometry::grown(geometry::grown(bench.outline, half, off), -(half + spread), off);
}

FlatLayers flat_layers(const Bench& bench) {
    const bool in_first = bench.standing.zone == Zone::bottom && bench.standing.mode != Mode::hidden;
    const double rest = bench.standing.depth.value - (in_first ? bench.process->first_layer_mm.value : 0);
    const auto others = static_cast<int>(std::lround(rest / bench.process->layer_height_mm.value));
    return {std::max(in_first ? 0 : 1, others), in_first};
}

Status print_flat(const Bench& bench, Printed& out, const Progress& progress) {
    const double layer = bench.process->layer_height_mm.value, first = bench.process->first_layer_mm.value;
    const bool hidden = bench.standing.mode == Mode::hidden;
    const auto [others, in_first] = flat_layers(bench);
    out.layers = others + in_first;
    out.depth = others * layer + (in_first ? first : 0);
    std::future<Layer> on_plate; // side by side with those above
    if (in_first) on_plate = std::async(std::launch::async, [&] { return first_layer(bench); });
    const Outline figure = laid(bench, bench.figures().bead_spread_mm.value);
    out.islands = count_islands(bench, figure);
    if (progress.cancelled()) return fail(std::string(cancelled_code), "Cancelled.");
    out.relief = shown(bench, figure);
    const auto sign = static_cast<float>(bench.raised() || hidden ? 1 : -1);
    const auto above = static_cast<float>(others * layer);
    if (in_first) {
        const auto [lowest, lost] = on_plate.get();
        out.lost_islands = lost;
        // What the first layer closes hides the layers over it.
        for (std::size_t i = 0; i < out.relief.values.size(); ++i)
            out.relief.values[i] = sign * (above * std::min(out.relief.values[i], lowest.values[i]) +
                                           static_cast<float>(first) * lowest.values[i]);
        return {};
    }
    for (float& height : out.relief.values)
        height *= sign * above;
    if (hidden) {
        sag_into(bench, out.relief);
    } else if (bench.standing.zone == Zone::top) {
        add_lines(bench, out.relief);
    }
    return {};
}

} // namespace touchmark::print
