// SPDX-License-Identifier: MIT
#include "core/imprint/parameter_integral.h"

#include "core/base/quadrature.h"
#include "core/imprint/interpolation.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace touchmark::imprint {
namespace {

constexpr std::size_t order = 10;
using Row = std::array<double, order + 1>;

/// Values of Chebyshev's polynomials at x.
Row chebyshev(double x) {
    Row t;
    t[0] = 1;
    t[1] = x;
    for (std::size_t k = 2; k < t.size(); ++k)
        t[k] = 2 * x * t[k - 1] - t[k - 2];
    return t;
}

struct Nodes {
    std::array<double, order> at;
    std::array<Row, order> polynomials;

    Nodes() {
        for (std::size_t i = 0; i < order; ++i) {
            at[i] = std::cos((static_cast<double>(i) + 0.5) * std::numbers::pi / order);
            polynomials[i] = chebyshev(at[i]);
        }
    }
};
const Nodes& nodes() {
    static const Nodes all;
    return all;
}

using Density = std::function<double(Vec2)>;

/// A function over a rectangle as a sum of Chebyshev polynomials, and its integral along u.
class Cell {
public:
    Cell(const Density& density, Vec2 low, Vec2 high) : middle_((low + high) * 0.5), half_((high - low) * 0.5) {
        std::array<std::array<double, order>, order> sums{}; // polynomials in v, nodes in u
        for (std::size_t i = 0; i < order; ++i)
            for (std::size_t j = 0; j < order; ++j) {
                const double g = density(middle_ + Vec2{half_.x * nodes().at[i], half_.y * nodes().at[j]});
                for (std::size_t k = 0; k < order; ++k)
                    sums[i][k] += g * nodes().polynomials[j][k];
            }
        for (std::size_t k = 0; k < order; ++k)
            for (std::size_t l = 0; l < order; ++l) {
                double sum = 0;
                for (std::size_t i = 0; i < order; ++i)
                    sum += sums[i][k] * nodes().polynomials[i][l];
                own_[k][l] = sum * (k == 0 ? 1 : 2) * (l == 0 ? 1 : 2) / (order * order);
            }
        integrate();
    }

    [[nodiscard]] double value(Vec2 uv) const { return sum(own_, local(uv)); }
    /// From the left side to u.
    [[nodiscard]] double integral(Vec2 uv) const { return sum(integral_, local(uv)) * half_.x; }
    [[nodiscard]] double right() const { return middle_.x + half_.x; }
    /// Whether the polynomials say what the function does.
    [[nodiscard]] bool is_true(const Density& density) const {
        constexpr double good = 1e-9;
        for (const Vec2 at : {Vec2{0.93, 0.41}, Vec2{-0.62, 0.88}, Vec2{0.15, -0.97}, Vec2{-0.98, -0.3}}) {
            const Vec2 uv = middle_ + Vec2{half_.x * at.x, half_.y * at.y};
            const double g = density(uv);
            if (!(std::abs(value(uv) - g) <= good * std::abs(g))) return false;
        }
        return true;
    }

private:
    using Table = std::array<Row, order>; ///< by polynomials in v, then in u

    [[nodiscard]] Vec2 local(Vec2 uv) const {
        return {half_.x > 0 ? (uv.x - middle_.x) / half_.x : 0, half_.y > 0 ? (uv.y - middle_.y) / half_.y : 0};
    }
    static double sum(const Table& table, Vec2 at) {
        const Row u = chebyshev(at.x), v = chebyshev(at.y);
        double all = 0;
        for (std::size_t k = 0; k < order; ++k) {
            double row = 0;
            for (std::size_t l = 0; l < u.size(); ++l)
                row += table[k][l] * u[l];
            all += row * v[k];
        }
        return all;
    }
    /// ∫ T_n = (T_{n+1} / (n + 1) − T_{n−1} / (n − 1)) / 2 (Abramowitz & Stegun, 22.13 and 22.7).
    void integrate() {
        for (std::size_t k = 0; k < order; ++k) {
            Row& to = integral_[k];
            const auto c = [&](std::size_t l) { return l < order ? own_[k][l] : 0.0; };
            double at_left = 0;
            for (std::size_t l = 1; l <= order; ++l) {
                to[l] = ((l == 1 ? 2 : 1) * c(l - 1) - c(l + 1)) / (2 * static_cast<double>(l));
                at_left += (l % 2 ? -1 : 1) * to[l];
            }
            to[0] = -at_left;
        }
    }

    Vec2 middle_, half_;
    Table own_{}, integral_{};
};

/// Cells over a box of the parameters, none across a break, fine enough.
class Cells {
public:
    Cells(const Density& density, const std::vector<double>& breaks_u, const std::vector<double>& breaks_v,
          const Box2& box) {
        for (int halvings = 0; halvings <= deepest; ++halvings)
            if (build(density, breaks_u, breaks_v, box, 1 << halvings, halvings == deepest)) break;
    }
    /// ∫ along u from the box's left side.
    [[nodiscard]] double integral(Vec2 uv) const {
        const auto above = std::upper_bound(rows_.begin() + 1, rows_.end() - 1, uv.y);
        const auto row = static_cast<std::size_t>(above - rows_.begin()) - 1;
        double all = 0;
        for (std::size_t i = 0; i < columns_; ++i) {
            const Cell& cell = cells_[row * columns_ + i];
            if (i + 1 == columns_ || uv.x <= cell.right()) return all + cell.integral(uv);
            all += cell.integral({cell.right(), uv.y});
        }
        return all;
    }

private:
    static constexpr int deepest = 5;

    bool build(const Density& density, const std::vector<double>& breaks_u, const std::vector<double>& breaks_v,
               const Box2& box, int parts, bool anyhow) {
        constexpr double hair = 1e-9; // of the range
        const std::vector<double> us = grid_lines(box.low.x, box.high.x, breaks_u, parts, hair * box.width());
        rows_ = grid_lines(box.low.y, box.high.y, breaks_v, parts, hair * box.height());
        columns_ = us.size() - 1;
        cells_.clear();
        for (std::size_t j = 0; j + 1 < rows_.size(); ++j)
            for (std::size_t i = 0; i < columns_; ++i) {
                cells_.emplace_back(density, Vec2{us[i], rows_[j]}, Vec2{us[i + 1], rows_[j + 1]});
                if (!anyhow && !cells_.back().is_true(density)) return false;
            }
        return true;
    }

    std::vector<double> rows_;
    std::size_t columns_ = 0;
    std::vector<Cell> cells_;
};

using Quintic = std::array<Vec2, 6>;

Vec2 place(const Quintic& curve, double t) {
    const auto b = Interpolation<5>::bernstein(t);
    Vec2 sum;
    for (std::size_t i = 0; i < b.size(); ++i)
        sum = sum + curve[i] * b[i];
    return sum;
}

double rising(const Quintic& curve, double t) {
    const auto b = Interpolation<4>::bernstein(t);
    double sum = 0;
    for (std::size_t i = 0; i < b.size(); ++i)
        sum += (curve[i + 1].y - curve[i].y) * (5 * b[i]);
    return sum;
}

} // namespace

double integral_over(const std::vector<std::array<Vec2, 6>>& boundary, const std::vector<double>& breaks_u,
                     const std::vector<double>& breaks_v, const std::function<double(Vec2)>& density) {
    Box2 box;
    for (const Quintic& curve : boundary)
        for (const Vec2 pole : curve)
            box.add(pole);
    const Cells cells(density, breaks_u, breaks_v, box);
    // ∫∫ g du dv = ∮ (∫ g du) dv (Green); five points of Gauss and Legendre on each half of a curve.
    double sum = 0;
    for (const Quintic& curve : boundary)
        for (const double from : {0.0, 0.5})
            for (const auto& [at, weight] : gauss_5) {
                const double t = from + (at + 1) / 4;
                sum += weight / 4 * cells.integral(place(curve, t)) * rising(curve, t);
            }
    return sum;
}

} // namespace touchmark::imprint
