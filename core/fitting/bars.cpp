// SPDX-License-Identifier: MIT
#include "core/fitting/prediction.h"
#include "core/print/fidelity.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace touchmark::fitting {
namespace {

geometry::Region rectangle(double low_x, double high_x, double height) {
    const std::array<Vec2, 4> corners{Vec2{low_x, -height / 2}, Vec2{high_x, -height / 2}, Vec2{high_x, height / 2},
                                      Vec2{low_x, height / 2}};
    return {geometry::contour_of(corners), {}};
}

/// The rows of the middle half of a bar.
struct Rows {
    int from, to; ///< `to` excluded
};
Rows middle_rows(const print::Printed& printed) {
    const print::Grid& grid = printed.relief.grid;
    const int middle = static_cast<int>(std::floor(-grid.low.y / grid.step_y));
    double planned = 0; // rows that the mark covers
    for (int row = 0; row < grid.rows; ++row) {
        float most = 0;
        for (int x = 0; x < grid.columns; ++x)
            most = std::max(most, printed.ideal.at(x, row));
        planned += most > 0.5F;
    }
    const int quarter = std::max(1, static_cast<int>(planned / 4));
    return {std::max(0, middle - quarter), std::min(grid.rows, middle + quarter)};
}

} // namespace

Figures figures_of(const process::Process& process) {
    return {process.printing->bead_spread_mm.value, process.printing->first_layer_spread_mm.value,
            process.printing->least_line_mm.value};
}

process::Process with_figures(process::Process process, const Figures& figures) {
    process.printing->bead_spread_mm.value = figures.bead_spread;
    process.printing->first_layer_spread_mm.value = figures.first_layer_spread;
    process.printing->least_line_mm.value = figures.least_line;
    return process;
}

Result<print::Printed> print_bar(const Item& item, const process::Process& process, const Progress& progress) {
    const double height = bar_length_mm(process), half = item.size_mm / 2;
    geometry::Outline outline;
    if (item.kind == Kind::gap) {
        const double bar = bar_width_mm(process);
        outline.regions = {rectangle(-half - bar, -half, height), rectangle(half, half + bar, height)};
    } else {
        outline.regions = {rectangle(-half, half, height)};
    }
    print::Standing standing;
    standing.mode = item.mode;
    standing.zone = item.zone;
    standing.depth = Mm(relief_mm(process, item.zone));
    standing.incline = Degrees(item.zone == Zone::top ? 0 : item.zone == Zone::bottom ? 180 : 90);
    return print::simulate(outline, standing, process, progress);
}

double share_along(const print::Printed& printed, const Item& item) {
    const print::Grid& grid = printed.relief.grid;
    const bool gap = item.kind == Kind::gap;
    constexpr double give = 0.15; // mm, as print::fidelity_of() allows a stroke to lie beside its plan
    const double reach = std::min(give, item.size_mm / 2 - grid.step_x);
    const int across = std::max(0, static_cast<int>(reach / grid.step_x)),
              along = std::max(0, static_cast<int>(reach / grid.step_y));
    const auto [from, to] = middle_rows(printed);
    // Between the two columns beside the middle.
    const double place = -grid.low.x / grid.step_x - 0.5;
    const int column = std::clamp(static_cast<int>(std::floor(place)), 0, grid.columns - 2);
    const double t = place - column;
    const auto share = [&](double x, int row) {
        const int left = std::clamp(static_cast<int>(std::floor(x)), 0, grid.columns - 2);
        const double beside = x - left;
        return printed.retained((1 - beside) * static_cast<double>(printed.relief.at(left, row)) +
                                beside * static_cast<double>(printed.relief.at(left + 1, row)));
    };
    double sum = 0;
    for (int row = from; row < to; ++row) {
        double best = share(column + t, row);
        for (int j = std::max(0, row - along); j <= std::min(grid.rows - 1, row + along); ++j)
            for (int i = -across; i <= across; ++i)
                best = gap ? std::min(best, share(column + t + i, j)) : std::max(best, share(column + t + i, j));
        sum += best;
    }
    return sum / std::max(1, to - from);
}

double width_of(const print::Printed& printed, const Item& item) {
    const print::Grid& grid = printed.relief.grid;
    const bool gap = item.kind == Kind::gap;
    const auto [from, to] = middle_rows(printed);
    const auto middle = std::clamp(static_cast<int>(std::floor(-grid.low.x / grid.step_x)), 1, grid.columns - 2);
    double sum = 0;
    for (int row = from; row < to; ++row) {
        /// How far over half the depth, of what is measured.
        const auto over = [&](int x) {
            const double share = printed.retained(printed.relief.at(x, row)) - 0.5;
            return gap ? -share : share;
        };
        // The middle may lie between two columns; the better of them is in.
        const int start = over(middle) >= over(middle - 1) ? middle : middle - 1;
        if (over(start) <= 0) continue;
        for (const int way : {-1, 1}) {
            int x = start;
            while (x + way >= 0 && x + way < grid.columns && over(x + way) > 0)
                x += way;
            const int out = std::clamp(x + way, 0, grid.columns - 1);
            const double in = over(x), beyond = over(out), t = out == x ? 0 : in / (in - beyond);
            sum += way * ((x + 0.5 + way * t) * grid.step_x + grid.low.x);
        }
    }
    return sum / std::max(1, to - from);
}

} // namespace touchmark::fitting
