// SPDX-License-Identifier: MIT
#include "core/fitting/prediction.h"

#include "core/print/fidelity.h"

#include <algorithm>
#include <cmath>

namespace touchmark::fitting {
namespace {

constexpr double closed_at = 0.5; ///< a gap that is half closed is none, as print::fidelity_of() has it

/// Where a series begins to come out at these figures.
Result<double> threshold_at(Item item, const process::Process& process, std::optional<double> near,
                            const Progress& progress) {
    const double line = process.line_width_mm.value;
    const auto comes_out = [&](double width) -> Result<bool> {
        item.size_mm = width;
        const auto printed = print_bar(item, process, progress);
        if (!printed) return std::unexpected(printed.error());
        const double share = share_along(*printed, item);
        return item.kind == Kind::gap ? share < closed_at : share >= print::relief_came_out;
    };
    double low = 0.02 * line, high = 6 * line;
    if (near) {
        const double reach = 0.4 * line;
        for (const double bound : {*near - reach, *near + reach}) {
            if (bound <= low || bound >= high) continue;
            const auto there = comes_out(bound);
            if (!there) return std::unexpected(there.error());
            (*there ? high : low) = bound;
        }
    }
    constexpr double fine = 2e-3; // mm
    while (high - low > fine) {
        const double middle = (low + high) / 2;
        const auto there = comes_out(middle);
        if (!there) return std::unexpected(there.error());
        (*there ? high : low) = middle;
    }
    return (low + high) / 2;
}

} // namespace

double PrintModel::Table::at(const Figures& figures) const {
    const auto place = [&](const Axis& axis, int& node, double& t) {
        node = 0;
        t = 0;
        if (axis.nodes < 2) return;
        const double along =
            std::clamp((figures.*axis.figure - axis.low) / (axis.high - axis.low), 0.0, 1.0) * (axis.nodes - 1);
        node = std::min(static_cast<int>(along), axis.nodes - 2);
        t = along - node;
    };
    int i = 0, j = 0;
    double s = 0, t = 0;
    place(x, i, s);
    place(y, j, t);
    const auto value = [&](int a, int b) {
        return values[static_cast<std::size_t>(std::min(b, y.nodes - 1) * x.nodes + std::min(a, x.nodes - 1))];
    };
    return (1 - t) * ((1 - s) * value(i, j) + s * value(i + 1, j)) +
           t * ((1 - s) * value(i, j + 1) + s * value(i + 1, j + 1));
}

/// `value`: at figures, given what came out at the node before along x.
template <class Value> Result<PrintModel::Table> PrintModel::tabulated(Axis x, Axis y, Value&& value) const {
    Table out{x, y, {}};
    for (int j = 0; j < y.nodes; ++j) {
        std::optional<double> last;
        for (int i = 0; i < x.nodes; ++i) {
            Figures figures = base_;
            figures.*x.figure = x.at(i);
            if (y.nodes > 1) figures.*y.figure = y.at(j);
            const Result<double> here = value(figures, last);
            if (!here) return std::unexpected(here.error());
            out.values.push_back(*here);
            last = *here;
        }
    }
    return out;
}

Result<PrintModel::Table> PrintModel::thresholds(const Item& item, const process::Process& process,
                                                 const Progress& progress) const {
    constexpr int many = 9, few = 4;
    const auto axis = [&](double Figures::* figure, int nodes) {
        return Axis{figure, least_.*figure, most_.*figure, nodes};
    };
    Axis x = axis(&Figures::bead_spread, many), y{&Figures::bead_spread, 0, 0, 1};
    if (item.zone == Zone::bottom)
        x = axis(&Figures::first_layer_spread, many), y = axis(&Figures::bead_spread, few);
    else if (item.mode == Mode::raise && item.kind == Kind::stroke)
        x = axis(&Figures::least_line, many), y = axis(&Figures::bead_spread, few);
    return tabulated(x, y, [&](const Figures& figures, std::optional<double> last) {
        return threshold_at(item, with_figures(process, figures), last, progress);
    });
}

Result<PrintModel::Table> PrintModel::widths(const Item& item, const process::Process& process,
                                             const Progress& progress) const {
    constexpr int many = 9, few = 4;
    const auto axis = [&](double Figures::* figure, int nodes) {
        return Axis{figure, least_.*figure, most_.*figure, nodes};
    };
    Axis x = axis(&Figures::bead_spread, many), y{&Figures::bead_spread, 0, 0, 1};
    // It was measured, so it is there, whatever the least line.
    constexpr double surely = 0.8;
    const double there = surely * (item.kind == Kind::gap ? bar_width_mm(process) : item.size_mm);
    if (item.zone == Zone::bottom) {
        x = axis(&Figures::first_layer_spread, many);
        y = axis(&Figures::bead_spread, few);
    } else if (item.zone == Zone::side_wall && item.mode == Mode::raise && there > least_.least_line) {
        y = {&Figures::least_line, least_.least_line, std::min(there, most_.least_line), few};
    }
    return tabulated(x, y, [&](Figures figures, std::optional<double>) -> Result<double> {
        figures.least_line = std::min(figures.least_line, there);
        const auto printed = print_bar(item, with_figures(process, figures), progress);
        if (!printed) return std::unexpected(printed.error());
        return width_of(*printed, item);
    });
}

Result<PrintModel> PrintModel::of(const process::Process& process, std::span<const Item> items,
                                  std::span<const Seen> seen, const Progress& progress) {
    PrintModel out;
    const double line = process.line_width_mm.value;
    out.base_ = figures_of(process);
    out.least_ = {0, 0, 0.3 * line};
    out.most_ = {0.7 * line, 1.2 * line, 2.8 * line};
    double done = 0;
    for (const Seen& row : seen) {
        progress.report(done++ / static_cast<double>(seen.size()), "Printing the strip in simulation");
        const Item& item = items[row.item];
        if (item.kind != Kind::stroke && item.kind != Kind::gap) continue;
        const char letter = item.name.front();
        if (row.printed > 0 && !out.thresholds_.contains(letter)) {
            auto table = out.thresholds(item, process, progress);
            if (!table) return std::unexpected(table.error());
            out.thresholds_.emplace(letter, *std::move(table));
        }
        if (!row.measured_mm.empty() && !out.widths_.contains(row.item)) {
            auto table = out.widths(item, process, progress);
            if (!table) return std::unexpected(table.error());
            out.widths_.emplace(row.item, *std::move(table));
        }
    }
    return out;
}

double PrintModel::threshold(char series, const Figures& figures) const {
    return thresholds_.at(series).at(figures);
}

double PrintModel::width(std::size_t item, const Figures& figures) const {
    return widths_.at(item).at(figures);
}

} // namespace touchmark::fitting
