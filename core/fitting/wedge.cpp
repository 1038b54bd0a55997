// SPDX-License-Identifier: MIT
#include "core/fitting/wedge.h"

#include <boost/math/distributions/students_t.hpp>

#include <algorithm>
#include <cmath>
#include <numeric>

namespace touchmark::fitting {
namespace {

/// Means of neighbours until none is brighter than a thinner one (M. Ayer et al., Ann. Math. Stat. 26, 1955).
std::vector<process::WedgeStep> never_brighter(std::vector<process::WedgeStep> steps, bool& evened) {
    struct Pool {
        double sum = 0, count = 0;
        [[nodiscard]] double mean() const { return sum / count; }
    };
    std::vector<Pool> pools;
    for (const process::WedgeStep& step : steps) {
        pools.push_back({step.log_transmission, 1});
        while (pools.size() > 1 && pools.back().mean() > pools[pools.size() - 2].mean()) {
            const Pool last = pools.back();
            pools.pop_back();
            pools.back().sum += last.sum;
            pools.back().count += last.count;
            evened = true;
        }
    }
    auto step = steps.begin();
    for (const Pool& pool : pools)
        for (double i = 0; i < pool.count; ++i)
            (step++)->log_transmission = pool.mean();
    return steps;
}

} // namespace

std::optional<Line> line_through(std::span<const std::pair<double, double>> points) {
    const auto count = static_cast<double>(points.size());
    double mean_x = 0, mean_y = 0;
    for (const auto& [x, y] : points)
        mean_x += x / count, mean_y += y / count;
    double xx = 0, xy = 0, yy = 0;
    for (const auto& [x, y] : points) {
        xx += (x - mean_x) * (x - mean_x);
        xy += (x - mean_x) * (y - mean_y);
        yy += (y - mean_y) * (y - mean_y);
    }
    if (!(xx > 0)) return std::nullopt;
    Line out;
    out.slope = xy / xx;
    out.intercept = mean_y - out.slope * mean_x;
    double left = 0;
    for (const auto& [x, y] : points) {
        const double off = y - out.intercept - out.slope * x;
        left += off * off;
    }
    out.r_squared = yy > 0 ? 1 - left / yy : 1;
    if (count < 3) return out;
    out.scatter = std::sqrt(left / (count - 2));
    out.slope_deviation = out.scatter / std::sqrt(xx);
    out.intercept_deviation = out.scatter * std::sqrt(1 / count + mean_x * mean_x / xx);
    constexpr double confidence = 0.95;
    const double t = quantile(boost::math::students_t(count - 2), (1 + confidence) / 2);
    out.slope_interval = {out.slope - t * out.slope_deviation, out.slope + t * out.slope_deviation};
    out.intercept_interval = {out.intercept - t * out.intercept_deviation, out.intercept + t * out.intercept_deviation};
    return out;
}

std::optional<WedgeFit> wedge_fit(std::span<const Item> items, std::span<const Seen> seen) {
    std::vector<std::pair<double, double>> points;
    for (const Seen& row : seen) {
        if (!row.light) continue;
        const double thickness = row.measured_mm.empty()
                                     ? items[row.item].size_mm
                                     : std::accumulate(row.measured_mm.begin(), row.measured_mm.end(), 0.0) /
                                           static_cast<double>(row.measured_mm.size());
        points.emplace_back(thickness, std::log10(*row.light));
    }
    const auto line = line_through(points);
    if (!line || !(line->slope < 0)) return std::nullopt;
    WedgeFit out;
    const double per_mm = -std::log(10.0);
    out.attenuation_per_mm = per_mm * line->slope;
    if (line->slope_interval) out.interval = {per_mm * line->slope_interval->high, per_mm * line->slope_interval->low};
    out.r_squared = line->r_squared;
    out.surface = std::pow(10.0, line->intercept);
    if (line->intercept_interval)
        out.surface_interval = {std::pow(10.0, line->intercept_interval->low),
                                std::pow(10.0, line->intercept_interval->high)};
    std::ranges::sort(points);
    for (auto at = points.begin(); at != points.end();) {
        constexpr double alike = 0.005; // mm
        const auto end =
            std::find_if(at, points.end(), [&](const auto& point) { return point.first > at->first + alike; });
        process::WedgeStep step;
        for (auto point = at; point != end; ++point) {
            step.thickness_mm += point->first / static_cast<double>(end - at);
            step.log_transmission += point->second / static_cast<double>(end - at);
        }
        out.steps.push_back(step);
        at = end;
    }
    out.steps = never_brighter(std::move(out.steps), out.evened);
    return out;
}

} // namespace touchmark::fitting
