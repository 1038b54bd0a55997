// SPDX-License-Identifier: MIT
#include "core/print/coverage.h"

#include <algorithm>
#include <cmath>

namespace touchmark::print {

LevelCuts::LevelCuts(std::span<const geometry::Polygon> polygons, double pitch) : pitch_(pitch) {
    Box2 box;
    for (const geometry::Polygon& polygon : polygons)
        for (std::size_t i = 0; i < polygon.size(); ++i) {
            Vec2 a = polygon[i], b = polygon[(i + 1) % polygon.size()];
            box.add(a);
            if (a.y == b.y) continue;
            if (a.y > b.y) std::swap(a, b);
            edges_.push_back({a, b});
        }
    if (box.empty()) return;
    bottom_ = box.low.y;
    constexpr double most = 1e6;
    pitch_ = std::max(pitch_, box.height() / most);
    const auto row_of = [&](double y) { return static_cast<std::size_t>((y - bottom_) / pitch_); };
    rows_.resize(row_of(box.high.y) + 1);
    for (std::uint32_t i = 0; i < edges_.size(); ++i)
        for (std::size_t row = row_of(edges_[i].low.y); row <= row_of(edges_[i].high.y); ++row)
            rows_[row].push_back(i);
}

std::vector<double> LevelCuts::at(double y) const {
    std::vector<double> cuts;
    if (y < bottom_) return cuts;
    const auto row = static_cast<std::size_t>((y - bottom_) / pitch_);
    if (row >= rows_.size()) return cuts;
    for (const std::uint32_t i : rows_[row]) {
        const auto& [a, b] = edges_[i];
        if (a.y <= y && y < b.y) cuts.push_back(a.x + (b.x - a.x) * (y - a.y) / (b.y - a.y));
    }
    std::ranges::sort(cuts);
    return cuts;
}

void add_span(std::span<float> row, double from, double to, float value) {
    from = std::max(from, 0.0);
    to = std::min(to, static_cast<double>(row.size()));
    if (to <= from) return;
    const auto first = static_cast<std::size_t>(from), last = static_cast<std::size_t>(to);
    if (first == last) {
        row[first] += value * static_cast<float>(to - from);
        return;
    }
    row[first] += value * static_cast<float>(static_cast<double>(first + 1) - from);
    for (std::size_t i = first + 1; i < last; ++i)
        row[i] += value;
    if (last < row.size()) row[last] += value * static_cast<float>(to - static_cast<double>(last));
}

Field coverage(std::span<const geometry::Polygon> polygons, const Grid& grid, int lines) {
    Field out(grid);
    const LevelCuts cuts(polygons, grid.step_y);
    const auto columns = static_cast<std::size_t>(grid.columns);
    in_rows(grid, [&](int first, int last) {
        for (int row = first; row < last; ++row)
            for (int line = 0; line < lines; ++line) {
                const std::vector<double> at = cuts.at(grid.low.y + (row + (line + 0.5) / lines) * grid.step_y);
                const std::span<float> own(&out.values[grid.index(0, row)], columns);
                for (std::size_t i = 0; i + 1 < at.size(); i += 2)
                    add_span(own, (at[i] - grid.low.x) / grid.step_x, (at[i + 1] - grid.low.x) / grid.step_x,
                             1.0F / static_cast<float>(lines));
            }
    });
    return out;
}

} // namespace touchmark::print
