// SPDX-License-Identifier: MIT
#include "core/fitting/fit.h"

#include "core/fitting/likelihood.h"
#include "core/process/extrusion.h"

#include <boost/math/distributions/binomial.hpp>

#include <algorithm>
#include <array>
#include <cmath>

namespace touchmark::fitting {
namespace {

struct Looked {
    Unknown unknown;
    std::string_view key, title;
    double Figures::* figure;
    bool from_nothing;                     ///< zero is a figure as good as any, not the end of what the strip shows
    std::string_view too_small, too_large; ///< why it is not determined, where all or none came out
};
constexpr std::array looked_for{
    Looked{Unknown::bead_spread, "printing.bead_spread", "Bead spread", &Figures::bead_spread, true,
           "Every stroke and gap comes out", "Hardly any stroke or gap comes out"},
    Looked{Unknown::first_layer_spread, "printing.first_layer_spread", "First-layer spread",
           &Figures::first_layer_spread, true, "Every stroke in the bottom comes out",
           "Hardly any stroke in the bottom comes out"},
    Looked{Unknown::least_line, "printing.least_line", "Smallest stroke", &Figures::least_line, false,
           "Even the thinnest raised stroke comes out", "Hardly any raised stroke comes out"},
};

double thousandths(double value) {
    return std::round(value * 1000) / 1000;
}

/// How many rows speak of a figure.
std::size_t rows_for(Unknown unknown, std::span<const Item> items, std::span<const Seen> seen) {
    return static_cast<std::size_t>(std::ranges::count_if(seen, [&](const Seen& row) {
        const Item& item = items[row.item];
        if (item.kind != Kind::stroke && item.kind != Kind::gap) return false;
        const bool bottom = item.zone == Zone::bottom;
        const bool raised = item.mode == Mode::raise && item.kind == Kind::stroke;
        switch (unknown) {
        case Unknown::first_layer_spread:
            return bottom;
        case Unknown::least_line:
            return raised && row.printed > 0;
        default:
            return !bottom && (!raised || !row.measured_mm.empty());
        }
    }));
}

class Fitting {
public:
    Fitting(const PrintModel& model, const process::Process& process, std::span<const Item> items,
            std::span<const Seen> seen)
        : model_(model), process_(process), items_(items), seen_(seen),
          likelihood_(model, figures_of(process), process.line_width_mm.value, items, seen),
          search_(likelihood_.search()), best_(search_.best(likelihood_.start())) {}

    void run(Fit& out) const {
        for (const Looked& looked : looked_for)
            out.figures.push_back(figure(looked));
        out.readings = likelihood_.readings();
        out.scatter_mm = likelihood_.scatter(best_.at);
        for (const Looked& looked : {looked_for[0], looked_for[1]})
            hold_counts_against_widths(looked, out);
        series(out);
        rows(out);
    }

private:
    [[nodiscard]] Range range(const Looked& looked) const {
        return {model_.least().*looked.figure, model_.most().*looked.figure};
    }

    FittedFigure figure(const Looked& looked) const {
        FittedFigure out{std::string(looked.key), std::string(looked.title), "mm", figures_of(process_).*looked.figure};
        out.rows = rows_for(looked.unknown, items_, seen_);
        if (!likelihood_.depends_on(looked.unknown)) {
            out.why = "Nothing in the sheet depends on it.";
            return out;
        }
        const auto which = static_cast<std::size_t>(looked.unknown);
        const Search::Interval interval = search_.interval(best_, which, likelihood_.critical(looked.unknown));
        out.low = thousandths(interval.low);
        out.high = thousandths(interval.high);
        const auto [least, most] = range(looked);
        const bool below = interval.low_open && !looked.from_nothing;
        constexpr double says_nothing = 0.6; // of its range
        if (interval.high_open || below || interval.high - interval.low > says_nothing * (most - least)) {
            out.why = interval.high_open && interval.low_open ? "The sheet goes with any value."
                      : interval.high_open
                          ? std::string(looked.too_large) + ": it is at least " + short_number(out.low) + " mm."
                      : below ? std::string(looked.too_small) + ": it is at most " + short_number(out.high) + " mm."
                              : "Too few rows: it may be anything from " + short_number(out.low) + " to " +
                                    short_number(out.high) + " mm.";
            return out;
        }
        double value = best_.at[which];
        // Where many places are as good as the best, the middle stands for them.
        constexpr double as_good = 0.05;
        const double middle = (interval.low + interval.high) / 2;
        if (search_.excess(best_, which, middle) < as_good) value = middle;
        out.value = thousandths(value);
        return out;
    }

    /// By either alone: what both of them say of a figure should be the same.
    void hold_counts_against_widths(const Looked& looked, Fit& out) const {
        const auto alone = [&](Part part) -> std::optional<Search::Interval> {
            const Likelihood only(model_, figures_of(process_), process_.line_width_mm.value, items_, seen_, part);
            if (!only.depends_on(looked.unknown)) return std::nullopt;
            const Search search = only.search();
            return search.interval(search.best(only.start()), static_cast<std::size_t>(looked.unknown),
                                   only.critical(looked.unknown));
        };
        const auto counts = alone(Part::counts), widths = alone(Part::widths);
        if (!counts || !widths || (counts->low <= widths->high && widths->low <= counts->high)) return;
        const auto words = [](const Search::Interval& interval) {
            return short_number(interval.low) + " to " + short_number(interval.high) + " mm";
        };
        out.notes.push_back(
            std::string(looked.title) + ": what came out speaks for " + words(*counts) + ", what was measured for " +
            words(*widths) +
            ". The two do not agree; look again at what counts as come out and where widths are measured.");
    }

    void series(Fit& out) const {
        const Figures base = figures_of(process_), fitted = figures_of(out.fitted());
        for (const Series& one : all_series()) {
            std::vector<Counted> counted;
            for (const Seen& row : seen_)
                if (items_[row.item].name.front() == one.letter && row.printed > 0)
                    counted.push_back({items_[row.item].size_mm, row.printed, row.came_out});
            if (counted.empty()) continue;
            const double line = process_.line_width_mm.value;
            SeriesOutcome outcome{one.letter, threshold_of(counted, sharpest * line, usual_slip)};
            if (one.kind == Kind::stroke || one.kind == Kind::gap) {
                outcome.base = model_.threshold(one.letter, base);
                outcome.fitted = model_.threshold(one.letter, fitted);
            }
            out.series.push_back(outcome);
        }
    }

    void rows(Fit& out) const {
        const Figures base = figures_of(process_), fitted = figures_of(out.fitted());
        for (const Seen& seen : seen_) {
            const Item& item = items_[seen.item];
            if (item.kind != Kind::stroke && item.kind != Kind::gap) continue;
            RowOutcome row{seen.item, seen.line, seen.printed, seen.came_out};
            const double spread = likelihood_.spread(item, best_.at);
            if (seen.printed > 0) {
                const auto chance = [&](const Figures& figures) {
                    return chance_to_come_out(item.size_mm, model_.threshold(item.name.front(), figures), spread,
                                              usual_slip);
                };
                row.chance_base = chance(base);
                row.chance = chance(fitted);
                const boost::math::binomial_distribution<> came(seen.printed, row.chance);
                constexpr double unlikely = 0.005;
                const double fewer = cdf(came, seen.came_out),
                             more = seen.came_out > 0 ? cdf(complement(came, seen.came_out - 1)) : 1.0;
                row.odd = std::min(fewer, more) < unlikely;
            }
            row.measured_mm = seen.measured_mm;
            if (!row.measured_mm.empty()) {
                row.width_base = model_.width(seen.item, base);
                row.width = model_.width(seen.item, fitted);
                constexpr double far = 3; // standard deviations
                const double scatter = std::max(out.scatter_mm, 0.01);
                for (const double mm : row.measured_mm)
                    row.odd |= std::abs(mm - row.width) > far * scatter;
            }
            out.rows.push_back(std::move(row));
        }
        for (const RowOutcome& row : out.rows)
            if (row.odd)
                out.notes.push_back("Line " + std::to_string(row.line) + ", " + items_[row.item].name +
                                    ": hardly to be expected by the fitted profile. Look at it again.");
    }

    const PrintModel& model_;
    const process::Process& process_;
    std::span<const Item> items_;
    std::span<const Seen> seen_;
    Likelihood likelihood_;
    Search search_;
    Search::Found best_;
};

FittedFigure attenuation(const process::Process& process, const std::optional<WedgeFit>& wedge,
                         std::span<const Seen> seen) {
    FittedFigure out{"printing.attenuation", "Attenuation", "1/mm", process.printing->attenuation_per_mm.value};
    out.rows =
        static_cast<std::size_t>(std::ranges::count_if(seen, [](const Seen& row) { return row.light.has_value(); }));
    if (!wedge) {
        out.why = out.rows == 0 ? "No step of the wedge was held against a light."
                                : "It takes two steps of the wedge, the thicker the darker.";
        return out;
    }
    out.value = thousandths(wedge->attenuation_per_mm);
    const auto interval = wedge->interval.value_or(Bounds{wedge->attenuation_per_mm, wedge->attenuation_per_mm});
    out.low = thousandths(std::max(0.0, interval.low));
    out.high = thousandths(interval.high);
    return out;
}

void note_wedge(const WedgeFit& wedge, std::vector<std::string>& notes) {
    if (!wedge.interval)
        notes.emplace_back(
            "Attenuation: two steps leave nothing over to judge it by; hold all of them against a light.");
    if (wedge.evened)
        notes.emplace_back(
            "A thicker step of the wedge let more light through than a thinner one; their mean stands for both.");
    if (wedge.surface_interval && wedge.surface_interval->low > 1)
        notes.emplace_back("By the wedge a wall of no thickness would let more light through than there is: light went "
                           "past the steps, or they are thicker than planned.");
    constexpr double straight = 0.95;
    if (wedge.r_squared < straight)
        notes.emplace_back("The wedge's steps do not lie on a line (R² " + short_number(wedge.r_squared) +
                           "); the profile goes by the steps themselves.");
}

Status can_be_fitted(const process::Process& process, std::span<const Item> items, const Sheet& sheet) {
    if (!process.printing) return std::unexpected(process::no_simulated_print(process));
    const bool useful = std::ranges::any_of(sheet.seen, [&](const Seen& row) {
        const Kind kind = items[row.item].kind;
        return kind == Kind::stroke || kind == Kind::gap || kind == Kind::step;
    });
    if (!useful)
        return fail("fitting.nothing", "The sheet says nothing of a stroke, a gap or a step of the wedge.",
                    "Fill in printed and came_out, or measured_mm, of some of them.");
    return {};
}

} // namespace

process::Process Fit::fitted() const {
    process::Process out = base;
    for (const FittedFigure& figure : figures) {
        if (!figure.value) continue;
        for (const process::Printing::Row& row : process::Printing::rows())
            if (figure.key == "printing." + std::string(row.key)) ((*out.printing).*row.figure).value = *figure.value;
    }
    if (wedge && wedge->steps.size() > 1) out.printing->wedge = wedge->steps;
    return out;
}

Result<Fit> fit_sheet(const PrintModel& model, const process::Process& process, std::span<const Item> items,
                      const Sheet& sheet) {
    if (const Status able = can_be_fitted(process, items, sheet); !able) return std::unexpected(able.error());
    Fit out{.base = process, .figures = {}};
    out.wedge = wedge_fit(items, sheet.seen);
    Fitting(model, process, items, sheet.seen).run(out);
    out.figures.push_back(attenuation(process, out.wedge, sheet.seen));
    if (out.wedge) note_wedge(*out.wedge, out.notes);
    return out;
}

Result<Fit> fit_sheet(const process::Process& process, std::span<const Item> items, const Sheet& sheet,
                      const Progress& progress) {
    if (const Status able = can_be_fitted(process, items, sheet); !able) return std::unexpected(able.error());
    const auto model = PrintModel::of(process, items, sheet.seen, progress);
    if (!model) return std::unexpected(model.error());
    return fit_sheet(*model, process, items, sheet);
}

} // namespace touchmark::fitting
