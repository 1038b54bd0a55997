// SPDX-License-Identifier: MIT
#include "core/surface/rectangle.h"

#include <algorithm>
#include <cmath>
#include <vector>

namespace touchmark::surface {
namespace {

struct Edge {
    Vec2 a, b;
};

constexpr double touching = 1e-7; // mm that a cell may reach over an edge

/// Lines of a grid with whatever spacing; a rectangle of whole cells without an edge in them lies in the area.
class Grid {
public:
    Grid(std::span<const Edge> edges, std::vector<double> xs, std::vector<double> ys)
        : xs_(std::move(xs)), ys_(std::move(ys)), columns_(xs_.size() - 1), rows_(ys_.size() - 1),
          free_(columns_ * rows_, 0) {
        mark_inside(edges);
        for (const Edge& edge : edges)
            mark_crossed(edge);
    }

    [[nodiscard]] Box2 largest() const {
        std::vector<double> height(columns_ + 1, 0); // the last stays 0 and closes the row
        std::vector<std::size_t> open;
        Box2 best;
        double best_area = 0;
        for (std::size_t row = 0; row < rows_; ++row) {
            for (std::size_t i = 0; i < columns_; ++i)
                height[i] = free_[row * columns_ + i] ? height[i] + ys_[row + 1] - ys_[row] : 0;
            open.clear();
            for (std::size_t i = 0; i <= columns_; ++i) {
                while (!open.empty() && height[open.back()] >= height[i]) {
                    const double tall = height[open.back()];
                    open.pop_back();
                    const double left = xs_[open.empty() ? 0 : open.back() + 1], right = xs_[std::min(i, columns_)];
                    if (tall * (right - left) > best_area * (1 + 1e-9)) {
                        best_area = tall * (right - left);
                        best = {{left, ys_[row + 1] - tall}, {right, ys_[row + 1]}};
                    }
                }
                open.push_back(i);
            }
        }
        return best;
    }

private:
    void mark_inside(std::span<const Edge> edges) {
        std::vector<std::vector<double>> crossings(rows_);
        for (const Edge& edge : edges) {
            const auto [low, high] = std::minmax(edge.a.y, edge.b.y);
            if (low == high) continue;
            for (std::size_t row = row_of(low); row < rows_; ++row) {
                const double y = (ys_[row] + ys_[row + 1]) / 2;
                if (y < low) continue;
                if (y >= high) break;
                crossings[row].push_back(edge.a.x + (edge.b.x - edge.a.x) * (y - edge.a.y) / (edge.b.y - edge.a.y));
            }
        }
        for (std::size_t row = 0; row < rows_; ++row) {
            std::sort(crossings[row].begin(), crossings[row].end());
            std::size_t passed = 0;
            for (std::size_t i = 0; i < columns_; ++i) {
                const double x = (xs_[i] + xs_[i + 1]) / 2;
                while (passed < crossings[row].size() && crossings[row][passed] < x)
                    ++passed;
                free_[row * columns_ + i] = passed % 2;
            }
        }
    }

    void mark_crossed(const Edge& edge) {
        const Vec2 left = edge.a.x <= edge.b.x ? edge.a : edge.b, right = edge.a.x <= edge.b.x ? edge.b : edge.a;
        const bool upright = right.x - left.x < touching;
        const auto at = [&](double x) { return left.y + (right.y - left.y) * (x - left.x) / (right.x - left.x); };
        for (std::size_t i = column_of(left.x); i < columns_ && xs_[i] < right.x - touching; ++i) {
            if (xs_[i + 1] <= left.x + touching) continue;
            const std::pair<double, double> range =
                upright ? std::pair(std::min(left.y, right.y), std::max(left.y, right.y))
                        : std::minmax({at(std::max(left.x, xs_[i])), at(std::min(right.x, xs_[i + 1]))});
            const auto [low, high] = range;
            for (std::size_t row = row_of(low); row < rows_ && ys_[row] < high - touching; ++row)
                if (ys_[row + 1] > low + touching) free_[row * columns_ + i] = 0;
        }
    }

    [[nodiscard]] std::size_t row_of(double y) const { return cell_of(ys_, y); }
    [[nodiscard]] std::size_t column_of(double x) const { return cell_of(xs_, x); }
    static std::size_t cell_of(const std::vector<double>& lines, double at) {
        const auto found = std::upper_bound(lines.begin(), lines.end(), at);
        return found == lines.begin() ? 0 : static_cast<std::size_t>(found - lines.begin() - 1);
    }

    std::vector<double> xs_, ys_;
    std::size_t columns_, rows_;
    std::vector<char> free_;
};

void tidy(std::vector<double>& lines) {
    std::sort(lines.begin(), lines.end());
    lines.erase(std::unique(lines.begin(), lines.end(), [](double a, double b) { return b - a < 1e-9; }), lines.end());
}

void add_uniform(std::vector<double>& lines, double low, double high, int count) {
    for (int i = 0; i <= count; ++i)
        lines.push_back(low + (high - low) * i / count);
}

/// Where sides of the best rectangle are likely: at ends of long edges and at the points where the boundary turns back.
void add_corners(std::span<const geometry::Polygon> boundary, double long_edge, std::vector<double>& xs,
                 std::vector<double>& ys) {
    constexpr std::size_t most = 160;
    std::vector<double> more_x, more_y;
    for (const geometry::Polygon& polygon : boundary)
        for (std::size_t i = 0; i < polygon.size(); ++i) {
            const Vec2 before = polygon[(i + polygon.size() - 1) % polygon.size()], at = polygon[i],
                       after = polygon[(i + 1) % polygon.size()];
            const bool corner = distance(before, at) > long_edge || distance(at, after) > long_edge;
            if (corner || (at.x - before.x) * (after.x - at.x) <= 0) more_x.push_back(at.x);
            if (corner || (at.y - before.y) * (after.y - at.y) <= 0) more_y.push_back(at.y);
        }
    for (auto [more, lines] : {std::pair(&more_x, &xs), std::pair(&more_y, &ys)}) {
        tidy(*more);
        const std::size_t step = more->size() / most + 1;
        for (std::size_t i = 0; i < more->size(); i += step)
            lines->push_back((*more)[i]);
    }
}

/// Lines between the neighbours of a side on either hand; the largest gap that is left.
double refine(std::vector<double>& lines, std::initializer_list<double> sides) {
    constexpr int parts = 8;
    std::vector<double> more;
    double gap = 0;
    for (const double side : sides) {
        const auto at = std::lower_bound(lines.begin(), lines.end(), side - 1e-9);
        if (at == lines.end()) continue;
        if (at != lines.begin())
            add_uniform(more, *(at - 1), *at, parts), gap = std::max(gap, (*at - *(at - 1)) / parts);
        if (at + 1 != lines.end())
            add_uniform(more, *at, *(at + 1), parts), gap = std::max(gap, (*(at + 1) - *at) / parts);
    }
    lines.insert(lines.end(), more.begin(), more.end());
    tidy(lines);
    return gap;
}

/// Each side moved out until it meets an edge.
Box2 pushed_out(Box2 box, std::span<const Edge> edges) {
    for (const bool upright : {false, true})
        for (const int sign : {1, -1}) {
            const auto along = [&](Vec2 p) { return upright ? p.x : p.y; };
            const auto across = [&](Vec2 p) { return upright ? p.y : p.x; };
            const double from = along(box.low) + touching, to = along(box.high) - touching;
            const double side = sign > 0 ? across(box.high) : across(box.low);
            double room = 1e300;
            for (const Edge& edge : edges) {
                Vec2 a = edge.a, b = edge.b;
                if (along(a) > along(b)) std::swap(a, b);
                if (along(b) <= from || along(a) >= to) continue;
                for (const double s : {std::max(along(a), from), std::min(along(b), to)}) {
                    const double t = along(b) > along(a) ? (s - along(a)) / (along(b) - along(a)) : 0;
                    const double c = across(a) + (across(b) - across(a)) * t;
                    const double gap = (c - side) * sign;
                    if (gap > -1e-6) room = std::min(room, std::max(gap, 0.0));
                }
            }
            if (room > 1e299) continue;
            double& moved = upright ? (sign > 0 ? box.high.y : box.low.y) : (sign > 0 ? box.high.x : box.low.x);
            moved += sign * room;
        }
    return box;
}

Box2 point_inside(std::span<const Edge> edges, const Box2& bounds) {
    double widest = -1;
    Vec2 best = bounds.centre();
    for (int i = 1; i < 32; ++i) {
        const double y = bounds.low.y + bounds.height() * (i + 0.0137) / 32;
        std::vector<double> crossings;
        for (const Edge& edge : edges)
            if ((edge.a.y <= y) != (edge.b.y <= y))
                crossings.push_back(edge.a.x + (edge.b.x - edge.a.x) * (y - edge.a.y) / (edge.b.y - edge.a.y));
        std::sort(crossings.begin(), crossings.end());
        for (std::size_t k = 0; k + 1 < crossings.size(); k += 2)
            if (crossings[k + 1] - crossings[k] > widest) {
                widest = crossings[k + 1] - crossings[k];
                best = {(crossings[k] + crossings[k + 1]) / 2, y};
            }
    }
    return {best, best};
}

} // namespace

Box2 largest_rectangle(std::span<const geometry::Polygon> boundary) {
    std::vector<Edge> edges;
    Box2 bounds;
    for (const geometry::Polygon& polygon : boundary)
        for (std::size_t i = 0; i < polygon.size(); ++i) {
            edges.push_back({polygon[i], polygon[(i + 1) % polygon.size()]});
            bounds.add(polygon[i]);
        }
    if (bounds.empty() || bounds.width() <= 0 || bounds.height() <= 0) return {bounds.low, bounds.low};
    Box2 best;
    for (const int parts : {64, 320}) {
        std::vector<double> xs, ys;
        add_uniform(xs, bounds.low.x, bounds.high.x, parts);
        add_uniform(ys, bounds.low.y, bounds.high.y, parts);
        add_corners(boundary, std::max(bounds.width(), bounds.height()) / 50, xs, ys);
        tidy(xs);
        tidy(ys);
        best = Grid(edges, xs, ys).largest();
        for (int pass = 0; pass < 8 && !best.empty(); ++pass) {
            const double gap = std::max(refine(xs, {best.low.x, best.high.x}), refine(ys, {best.low.y, best.high.y}));
            best = Grid(edges, xs, ys).largest();
            if (gap < 0.005) break;
        }
        if (!best.empty()) return pushed_out(best, edges);
    }
    return point_inside(edges, bounds);
}

} // namespace touchmark::surface
