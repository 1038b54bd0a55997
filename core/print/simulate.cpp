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
    if (is_layered(standing.zone)) {
        const double sine = std::max(0.1, std::abs(std::sin(standing.incline.radians())));
        bench.layer_pitch = process.layer_height_mm.value / sine;
        bench.rows_a_layer = std::max(1, static_cast<int>(std::lround(bench.layer_pitch / step)));
        grid.step_y = bench.layer_pitch / bench.rows_a_layer;
        const double first = standing.first_layer_at.value;
        grid.low.y = first + std::floor((grid.low.y - first) / bench.layer_pitch) * bench.layer_pitch;
    }
    grid.columns = static_cast<int>(std::ceil(width / grid.step_x));
    grid.rows = static_cast<int>(std::ceil((box.high.y + border - grid.low.y) / grid.step_y));
    grid.rows = (grid.rows + bench.rows_a_layer - 1) / bench.rows_a_layer * bench.rows_a_layer;
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
