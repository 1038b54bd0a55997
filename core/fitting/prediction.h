// SPDX-License-Identifier: MIT
#pragma once

#include "core/fitting/sheet.h"
#include "core/print/simulate.h"

#include <map>

namespace touchmark::fitting {

/// The figures of a profile that a strip's strokes and gaps depend on, mm.
struct Figures {
    double bead_spread = 0, first_layer_spread = 0, least_line = 0;
};
[[nodiscard]] Figures figures_of(const process::Process& process);
[[nodiscard]] process::Process with_figures(process::Process process, const Figures& figures);

/// A stroke or gap of any width, printed in simulation; REQUIRES: a kind of these two.
[[nodiscard]] Result<print::Printed> print_bar(const Item& item, const process::Process& process,
                                               const Progress& progress);
/// Share of the planned depth that is there along its middle, as print::fidelity_of() takes it; of a gap the share that
/// is closed.
[[nodiscard]] double share_along(const print::Printed& printed, const Item& item);
/// Its width at half the planned depth, mean over its middle; 0 where it is not there.
[[nodiscard]] double width_of(const print::Printed& printed, const Item& item);

/// What the simulated print makes of the strip's strokes and gaps, for any figures: printed at the nodes of a grid over
/// the figures that count for a series, straight lines between them.
class PrintModel {
public:
    /// Prints what `seen` asks for. Errors: those of simulate(), "cancelled".
    [[nodiscard]] static Result<PrintModel> of(const process::Process& process, std::span<const Item> items,
                                               std::span<const Seen> seen, const Progress& progress);

    /// The width from which on a series comes out. REQUIRES: something was seen of it.
    [[nodiscard]] double threshold(char series, const Figures& figures) const;
    /// What is measured of an item. REQUIRES: something was.
    [[nodiscard]] double width(std::size_t item, const Figures& figures) const;

    /// How far the figures may go, mm.
    [[nodiscard]] const Figures& least() const { return least_; }
    [[nodiscard]] const Figures& most() const { return most_; }

private:
    /// One or two figures of Figures; the second may be missing.
    struct Axis {
        double Figures::* figure = nullptr;
        double low = 0, high = 0;
        int nodes = 1;
        [[nodiscard]] double at(int node) const { return nodes > 1 ? low + (high - low) * node / (nodes - 1) : low; }
    };
    struct Table {
        Axis x, y;
        std::vector<double> values;
        [[nodiscard]] double at(const Figures& figures) const;
    };
    template <class Value> Result<Table> tabulated(Axis x, Axis y, Value&& value) const;
    [[nodiscard]] Result<Table> thresholds(const Item& item, const process::Process& process,
                                           const Progress& progress) const;
    [[nodiscard]] Result<Table> widths(const Item& item, const process::Process& process,
                                       const Progress& progress) const;

    Figures base_, least_, most_;
    std::map<char, Table> thresholds_;
    std::map<std::size_t, Table> widths_;
};

} // namespace touchmark::fitting
