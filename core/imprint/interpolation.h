// SPDX-License-Identifier: MIT
#pragma once

// Polynomials in Bézier form through given values.

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <vector>

namespace touchmark::imprint {

/// On [0, 1], at Chebyshev's points with the ends: there it is within a small factor of the best there is.
template <std::size_t degree> class Interpolation {
public:
    static constexpr std::size_t count = degree + 1;

    [[nodiscard]] static double node(std::size_t i) {
        static const auto nodes = [] {
            std::array<double, count> all{};
            for (std::size_t k = 0; k < count; ++k)
                all[k] = (1 - std::cos(static_cast<double>(k) * std::numbers::pi / degree)) / 2;
            return all;
        }();
        return nodes[i];
    }
    [[nodiscard]] static std::array<double, count> bernstein(double t) {
        std::array<double, count> b{1};
        for (std::size_t k = 1; k < count; ++k)
            for (std::size_t i = k + 1; i-- > 0;)
                b[i] = (i < k ? b[i] * (1 - t) : 0) + (i > 0 ? b[i - 1] * t : 0);
        return b;
    }
    /// Takes values at the nodes to poles.
    [[nodiscard]] static const std::array<std::array<double, count>, count>& pole_matrix() {
        static const auto matrix = inverse();
        return matrix;
    }

private:
    /// Of Bernstein's polynomials at the nodes, by Gauss and Jordan.
    static std::array<std::array<double, count>, count> inverse() {
        std::array<std::array<double, 2 * count>, count> rows{};
        for (std::size_t i = 0; i < count; ++i) {
            std::ranges::copy(bernstein(node(i)), rows[i].begin());
            rows[i][count + i] = 1;
        }
        for (std::size_t k = 0; k < count; ++k) {
            const auto pivot = std::max_element(rows.begin() + static_cast<std::ptrdiff_t>(k), rows.end(),
                                                [k](auto& a, auto& b) { return std::abs(a[k]) < std::abs(b[k]); });
            std::swap(*pivot, rows[k]);
            const double lead = rows[k][k];
            for (double& x : rows[k])
                x /= lead;
            for (std::size_t i = 0; i < count; ++i) {
                const double by = i == k ? 0 : rows[i][k];
                for (std::size_t j = 0; j < 2 * count; ++j)
                    rows[i][j] -= by * rows[k][j];
            }
        }
        std::array<std::array<double, count>, count> out{};
        for (std::size_t i = 0; i < count; ++i)
            std::copy(rows[i].begin() + count, rows[i].end(), out[i].begin());
        return out;
    }
};

/// From `low` to `high`: the breaks between, which ascend, and so many parts from each to the next. Breaks nearer than
/// `hair` to the one before or to the end count as one.
[[nodiscard]] inline std::vector<double> grid_lines(double low, double high, const std::vector<double>& breaks,
                                                    int parts, double hair) {
    std::vector<double> ends{low}, out{low};
    for (const double at : breaks)
        if (at > ends.back() + hair && at < high - hair) ends.push_back(at);
    ends.push_back(high);
    for (std::size_t i = 0; i + 1 < ends.size(); ++i)
        for (int k = 1; k <= parts; ++k)
            out.push_back(ends[i] + (ends[i + 1] - ends[i]) * k / parts);
    return out;
}

} // namespace touchmark::imprint
