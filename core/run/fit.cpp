// SPDX-License-Identifier: MIT
#include "core/run/fit.h"

#include <boost/math/distributions/chi_squared.hpp>

#include <algorithm>
#include <cmath>

namespace touchmark::run {
namespace {

/// Plain part last.
constexpr std::size_t unknowns = event_count + 1;
using Hazards = std::array<double, unknowns>; ///< -ln(1 - chance)
constexpr double certain = 40;                ///< a hazard that spares nobody, in double precision

double chance_of(double hazard) {
    return -std::expm1(-hazard);
}

std::string counted_text(double rejected, double printed) {
    const auto whole = [](double value) {
        return value < 1e15 && value == std::floor(value) ? std::to_string(static_cast<long long>(value))
                                                          : std::to_string(value);
    };
    return whole(rejected) + " of " + whole(printed);
}

class LotFit {
public:
    explicit LotFit(const std::vector<Lot>& lots) {
        for (const Lot& lot : lots) {
            Row row;
            std::ranges::copy(lot.events, row.events.begin());
            row.events.back() = lot.plain_part;
            row.rejected = lot.rejected;
            row.spared = lot.printed - lot.rejected;
            rows_.push_back(row);
            for (std::size_t k = 0; k < unknowns; ++k)
                exposure_[k] += row.events[k] * lot.printed;
        }
    }

    [[nodiscard]] double exposure(std::size_t k) const { return exposure_[k]; }

    /// As many independent directions among the lots as there are unknowns in them.
    [[nodiscard]] bool tells_apart() const {
        std::vector<std::vector<double>> matrix; // a column an unknown, scaled to 1
        for (const Row& row : rows_) {
            if (row.rejected + row.spared <= 0) continue;
            matrix.emplace_back();
            for (std::size_t k = 0; k < unknowns; ++k)
                if (exposure_[k] > 0) matrix.back().push_back(row.events[k] / largest(k));
        }
        const std::size_t columns = matrix.empty() ? 0 : matrix.front().size();
        constexpr double nothing = 1e-6;
        for (std::size_t column = 0, top = 0; column < columns; ++column, ++top) {
            const auto pivot = std::max_element(
                matrix.begin() + static_cast<std::ptrdiff_t>(std::min(top, matrix.size())), matrix.end(),
                [&](const auto& a, const auto& b) { return std::abs(a[column]) < std::abs(b[column]); });
            if (pivot == matrix.end() || std::abs((*pivot)[column]) < nothing) return false;
            std::swap(*pivot, matrix[top]);
            for (std::size_t row = top + 1; row < matrix.size(); ++row) {
                const double share = matrix[row][column] / matrix[top][column];
                for (std::size_t k = column; k < columns; ++k)
                    matrix[row][k] -= share * matrix[top][k];
            }
        }
        return columns > 0;
    }

    /// From where to start, with one of them held where it is.
    [[nodiscard]] Hazards likeliest(Hazards hazards, std::size_t held = unknowns) const {
        constexpr int most_steps = 4'000;
        constexpr double still = 1e-9;
        for (int step = 0; step < most_steps; ++step) {
            double moved = 0;
            const Hazards fell = rejects_of(hazards);
            for (std::size_t k = 0; k < unknowns; ++k) {
                if (k == held || exposure_[k] <= 0) continue;
                const double next = fell[k] < 1e-9 ? 0 : std::min(fell[k] / exposure_[k], certain / largest(k));
                if (next > 0) moved = std::max(moved, std::abs(next - hazards[k]) / next);
                hazards[k] = next;
            }
            if (moved < still) break;
        }
        return hazards;
    }

    /// How many of the rejects fall to each.
    [[nodiscard]] Hazards rejects_of(const Hazards& hazards) const {
        Hazards fell{};
        for (const Row& row : rows_) {
            const double all = hazard_of(row, hazards);
            if (row.rejected <= 0 || all <= 0) continue;
            const double share = row.rejected / chance_of(all);
            for (std::size_t k = 0; k < unknowns; ++k)
                fell[k] += share * row.events[k] * hazards[k];
        }
        return fell;
    }

    [[nodiscard]] double log_likelihood(const Hazards& hazards) const {
        double sum = 0;
        for (const Row& row : rows_) {
            const double all = hazard_of(row, hazards);
            if (row.rejected > 0) sum += row.rejected * std::log(std::max(chance_of(all), 1e-300));
            sum -= row.spared * all;
        }
        return sum;
    }

    /// What the likelihood ratio does not reject of one of them.
    [[nodiscard]] Interval interval(const Hazards& best, std::size_t k) const {
        const double least = log_likelihood(best) - critical() / 2;
        const auto likely = [&](double hazard) {
            Hazards at = best;
            at[k] = hazard;
            return log_likelihood(likeliest(at, k)) >= least;
        };
        const auto between = [&](double in, double out) {
            for (int i = 0; i < 40 && std::abs(in - out) > 1e-4 * std::max(in, out); ++i) {
                const double middle = (in + out) / 2;
                (likely(middle) ? in : out) = middle;
            }
            return (in + out) / 2;
        };
        double beyond = std::max(best[k], 1 / exposure_[k]) * 2;
        while (likely(beyond)) {
            beyond *= 2;
            if (beyond * largest(k) > certain) return {best[k] <= 0 || likely(0) ? 0 : between(best[k], 0), beyond};
        }
        return {best[k] <= 0 || likely(0) ? 0 : between(best[k], 0), between(best[k], beyond)};
    }

private:
    struct Row {
        Hazards events{};
        double rejected = 0, spared = 0;
    };

    static double critical() { return quantile(boost::math::chi_squared(1), confidence); }
    static double hazard_of(const Row& row, const Hazards& hazards) {
        double sum = 0;
        for (std::size_t k = 0; k < unknowns; ++k)
            sum += row.events[k] * hazards[k];
        return sum;
    }
    [[nodiscard]] double largest(std::size_t k) const {
        double most = 0;
        for (const Row& row : rows_)
            most = std::max(most, row.events[k]);
        return most;
    }

    std::vector<Row> rows_;
    Hazards exposure_{};
};

void fit_tallies(Rates& rates, const std::vector<EventTally>& tallies) {
    for (const EventKind& kind : event_kinds()) {
        double printed = 0, rejected = 0;
        for (const EventTally& tally : tallies)
            if (tally.event == kind.event) printed += tally.printed, rejected += tally.rejected;
        if (printed <= 0) continue;
        rates[kind.event] = {{rejected / printed, "fitted from counts: " + counted_text(rejected, printed), false},
                             chance_interval(rejected, printed)};
        rates.fit = Fit::apart;
    }
}

void fit_apart(Rates& rates, const LotFit& lots) {
    Hazards start{};
    for (std::size_t k = 0; k < unknowns; ++k)
        if (lots.exposure(k) > 0) start[k] = 1 / lots.exposure(k);
    const Hazards best = lots.likeliest(start);
    const Hazards fell = lots.rejects_of(best);
    for (const EventKind& kind : event_kinds()) {
        const std::size_t k = index_of(kind.event);
        if (lots.exposure(k) <= 0) continue;
        const Interval likely = lots.interval(best, k);
        const Interval exact = chance_interval(std::min(fell[k], lots.exposure(k)), lots.exposure(k));
        rates[kind.event] = {
            {chance_of(best[k]), "fitted from lots: " + counted_text(std::round(fell[k] * 10) / 10, lots.exposure(k)),
             false},
            Interval{std::min(chance_of(likely.low), exact.low), std::max(chance_of(likely.high), exact.high)}};
    }
    rates.fit = Fit::apart;
}

/// Each lot by how many rejects the planning figures expect of a unit; what is looked for is a factor on them.
Status fit_together(Rates& rates, const std::vector<Lot>& lots, const LotFit& exposures) {
    Hazards planned{};
    for (const EventKind& kind : event_kinds())
        planned[index_of(kind.event)] = -std::log1p(-std::min(rates[kind.event].chance.value, 1 - 1e-12));
    std::vector<Lot> reduced = lots;
    double units = 0;
    for (Lot& lot : reduced) {
        double expected = 0;
        for (std::size_t k = 0; k < event_count; ++k)
            expected += lot.events[k] * planned[k];
        lot.events = {expected};
        units += lot.printed;
    }
    const LotFit fit(reduced);
    if (fit.exposure(0) <= 0) return {};
    if (!fit.tells_apart())
        return fail("run.counts_not_apart",
                    "The counts do not tell what the marks spoil from what the plain part does.",
                    "Count a lot of plain parts too, with plain_part 1 and no events.");
    Hazards start{1 / fit.exposure(0)};
    start.back() = fit.exposure(event_count) > 0 ? 1 / fit.exposure(event_count) : 0;
    const Hazards best = fit.likeliest(start);
    const double fell = std::min(fit.rejects_of(best)[0], units), factor = best[0];
    const Interval likely = fit.interval(best, 0), exact = chance_interval(fell, units);
    const double grow = fell > 0 ? factor * units / fell : units / fit.exposure(0);
    const Interval interval{std::min(likely.low, exact.low * grow), std::max(likely.high, exact.high * grow)};
    for (const EventKind& kind : event_kinds()) {
        const std::size_t k = index_of(kind.event);
        if (exposures.exposure(k) <= 0) continue;
        rates[kind.event] = {
            {chance_of(planned[k] * factor),
             "planning figure, scaled with the others to counts: " + counted_text(std::round(fell * 10) / 10, units),
             false},
            Interval{chance_of(planned[k] * interval.low), chance_of(planned[k] * interval.high)}};
    }
    rates.fit = Fit::together;
    return {};
}

} // namespace

Result<Rates> fitted(const Rates& rates, const Counts& counts) {
    Rates out = rates;
    out.fit = Fit::none;
    for (Rate& rate : out.rates)
        rate.interval.reset();
    fit_tallies(out, counts.tallies);
    Status together;
    if (const LotFit lots(counts.lots); !counts.lots.empty()) {
        if (lots.tells_apart())
            fit_apart(out, lots);
        else
            together = fit_together(out, counts.lots, lots);
    }
    if (!together) return std::unexpected(together.error());
    if (out.fit == Fit::none)
        return fail("run.nothing_counted", "The counts hold no event that was printed.",
                    "See that \"printed\" is more than 0, and that the marks have such events.");
    out.title = rates.title + ", fitted to counts";
    return out;
}

} // namespace touchmark::run
