// SPDX-License-Identifier: MIT
#include "core/print/field.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace touchmark::print {
namespace {

/// A Gaussian's share in each cell about its middle.
std::vector<float> kernel(double sigma) {
    const int reach = std::max(1, static_cast<int>(std::ceil(3 * sigma)));
    const auto below = [&](double x) { return std::erf(x / (sigma * std::numbers::sqrt2)); };
    std::vector<float> weights;
    double sum = 0;
    for (int i = -reach; i <= reach; ++i) {
        weights.push_back(static_cast<float>((below(i + 0.5) - below(i - 0.5)) / 2));
        sum += weights.back();
    }
    for (float& weight : weights)
        weight /= static_cast<float>(sum);
    return weights;
}

constexpr double negligible = 0.05; // cells

void blur_rows(Field& field, double sigma) {
    if (sigma < negligible) return;
    const std::vector<float> weights = kernel(sigma);
    const int reach = static_cast<int>(weights.size() / 2), columns = field.grid.columns;
    in_rows(field.grid, [&](int first, int last) {
        std::vector<float> padded(static_cast<std::size_t>(columns + 2 * reach));
        for (int row = first; row < last; ++row) {
            float* own = &field.at(0, row);
            std::fill_n(padded.begin(), reach, own[0]);
            std::copy_n(own, columns, padded.begin() + reach);
            std::fill_n(padded.end() - reach, reach, own[columns - 1]);
            for (int x = 0; x < columns; ++x) {
                float sum = 0;
                for (std::size_t i = 0; i < weights.size(); ++i)
                    sum += weights[i] * padded[static_cast<std::size_t>(x) + i];
                own[x] = sum;
            }
        }
    });
}

void blur_columns(Field& field, double sigma) {
    if (sigma < negligible) return;
    const std::vector<float> weights = kernel(sigma);
    const int reach = static_cast<int>(weights.size() / 2), rows = field.grid.rows;
    Field out(field.grid);
    in_rows(field.grid, [&](int first, int last) {
        for (int row = first; row < last; ++row) {
            float* sum = &out.at(0, row);
            for (int i = -reach; i <= reach; ++i) {
                const float* from = &field.at(0, std::clamp(row + i, 0, rows - 1));
                const float weight = weights[static_cast<std::size_t>(i + reach)];
                for (int x = 0; x < field.grid.columns; ++x)
                    sum[x] += weight * from[x];
            }
        }
    });
    field.values = std::move(out.values);
}

} // namespace

double Field::value(Vec2 p) const {
    const double x = std::clamp((p.x - grid.low.x) / grid.step_x - 0.5, 0.0, grid.columns - 1.0);
    const double y = std::clamp((p.y - grid.low.y) / grid.step_y - 0.5, 0.0, grid.rows - 1.0);
    const int i = std::min(static_cast<int>(x), std::max(0, grid.columns - 2));
    const int j = std::min(static_cast<int>(y), std::max(0, grid.rows - 2));
    const int right = std::min(i + 1, grid.columns - 1), up = std::min(j + 1, grid.rows - 1);
    const double u = x - i, v = y - j;
    return (at(i, j) * (1 - u) + at(right, j) * u) * (1 - v) + (at(i, up) * (1 - u) + at(right, up) * u) * v;
}

Field blurred(Field field, double sigma_x, double sigma_y) {
    if (field.values.empty()) return field;
    blur_rows(field, sigma_x / field.grid.step_x);
    blur_columns(field, sigma_y / field.grid.step_y);
    return field;
}

} // namespace touchmark::print
