// SPDX-License-Identifier: MIT
#include "core/print/simulate.h"

#include "core/print/coverage.h"
#include "core/print/models.h"
#include "core/process/extrusion.h"

#include <cmath>

namespace touchmark::print {
namespace {

constexpr double cell = 0.05;  // mm
constexpr double border = 2.5; // mm about the mark
constexpr double most_cells = 4e6;
constexpr double longest = 2000; // mm

/// Layers from the one that the grid begins in up to `high`; a whole number of rows each, the same for all on a
/// straight face.
void lay_bands(Bench& bench, double step, double high) {
    const Standing& standing = bench.standing;
    const Rise& rise = standing.rise;
    const double layer = bench.process->layer_height_mm.value, first = standing.first_layer_at.value;
    const double sine = std::abs(std::sin(standing.incline.radians())), pitch = layer / std::max(0.1, sine);
    const double narrowest = rise.empty() ? pitch : layer;
    Grid& grid = bench.grid;
    grid.step_y = narrowest / std::max(1.0, std::round(narrowest / step));
    const auto edge = [&](double k) { return rise.empty() ? first + k * pitch : rise.place(first * sine + k * layer); };
    double k = rise.empty() ? std::floor((grid.low.y - first) / pitch)
                            : std::floor((rise.height(grid.low.y) - first * sine) / layer);
    grid.low.y = edge(k);
    int row = 0;
    for (double from = grid.low.y; from < high; ++k) {
        const double to = edge(k + 1);
        const int end = std::max(row + 1, static_cast<int>(std::lround((to - grid.low.y) / grid.step_y)));
        bench.bands.push_back({from, to, row, end, k == -1});
        row = end;
        from = to;
    }
    grid.rows = row;
}

} // namespace

Result<Bench> laid_out(const geometry::Outline& outline, const Standing& standing, const process::Process& process,
                       geometry::Affine& from_mark) {
    if (!process.printing) return std::unexpected(process::no_simulated_print(process));
    if (outline.empty()) return fail("print.empty", "There is nothing to print.", "Give the mark a text.");
    Bench bench{standing, {}, {}, &process, {}};
    // Turned so that `up` is the grid's y.
    const Vec2 up = is_layered(standing.zone) ? standing.up * (1 / length(standing.up)) : Vec2{0, 1};
    from_mark = {up.y, -up.x, up.x, up.y, {}};
    bench.outline = geometry::transformed(outline, from_mark);
    bench.polygons = geometry::flattened(bench.outline, flat_within);
    const Box2 box = geometry::bounds(bench.outline);
    const double width = box.width() + 2 * border, height = box.height() + 2 * border;
    if (width > longest || height > longest)
        return fail("print.too_large", "The mark is too large for a simulated print.", "Make it smaller than 2 m.");
    double step = std::max(cell, std::sqrt(width * height / most_cells));
    // Along a layer the lines' spread is a whole number of steps: it counts more than anything else.
    if (const double spread = process.printing->bead_spread_mm.value; is_layered(standing.zone) && spread > 0)
        step = spread / std::ceil(spread / step * finer) * finer;
    Grid& grid = bench.grid;
    grid.step_x = grid.step_y = step;
    grid.low = box.low - Vec2{border, border};
    grid.columns = static_cast<int>(std::ceil(width / grid.step_x));
    grid.rows = static_cast<int>(std::ceil(height / grid.step_y));
    if (is_layered(standing.zone)) lay_bands(bench, step, box.high.y + border);
    return bench;
}

bool is_layered(Zone zone) {
    return zone != Zone::top && zone != Zone::bottom;
}

Result<Printed> simulate(const geometry::Outline& outline, const Standing& standing, const process::Process& process,
                         const Progress& progress) {
    Printed out;
    const Result<Bench> bench = laid_out(outline, standing, process, out.from_mark);
    if (!bench) return std::unexpected(bench.error());
    out.ideal = coverage(bench->polygons, bench->grid);
    const Status done =
        is_layered(standing.zone) ? print_layered(*bench, out, progress) : print_flat(*bench, out, progress);
    if (!done) return std::unexpected(done.error());
    return out;
}

} // namespace touchmark::print
