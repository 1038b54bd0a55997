// SPDX-License-Identifier: MIT
#include "core/content/module_grid.h"

#include <array>

namespace touchmark::content {
namespace {

/// Walks along the edges of modules with the mark on the left. Corners have integer coordinates: (0, 0) is the upper
/// left corner of the grid, y down.
struct Corner {
    int x = 0, y = 0;
    friend bool operator==(const Corner&, const Corner&) = default;
};

constexpr std::array<Corner, 4> steps{{{1, 0}, {0, -1}, {-1, 0}, {0, 1}}}; // counter-clockwise as seen: right, up, …

/// The module on the left of the edge that leaves `from` in a direction.
constexpr std::array<Corner, 4> left_of{{{0, -1}, {-1, -1}, {-1, 0}, {0, 0}}};

constexpr int right_turn = 3;

struct Loop {
    std::vector<Vec2> points; ///< mm
    int component = -1;
    bool outer = false;
};

class Tracer {
public:
    Tracer(const ModuleGrid& grid, const ModuleSize& size)
        : grid_(grid), size_(size), wide_(grid.columns + 1), used_(std::size_t(wide_) * std::size_t(grid.rows + 1)),
          component_(grid.set.size(), -1) {}

    geometry::Outline trace() {
        label();
        geometry::Outline outline;
        outline.regions.resize(static_cast<std::size_t>(components_));
        for (int y = 0; y <= grid_.rows; ++y)
            for (int x = 0; x <= grid_.columns; ++x)
                for (int direction = 0; direction < 4; ++direction)
                    if (is_edge({x, y}, direction) && !used({x, y}, direction)) add(walk({x, y}, direction), outline);
        return outline;
    }

private:
    [[nodiscard]] bool module_left(Corner at, int direction) const {
        const Corner by = left_of[static_cast<std::size_t>(direction)];
        return grid_.at(at.x + by.x, at.y + by.y);
    }
    [[nodiscard]] bool module_right(Corner at, int direction) const {
        // The right side of an edge is the left side of the same edge walked backwards.
        const Corner step = steps[static_cast<std::size_t>(direction)];
        return module_left({at.x + step.x, at.y + step.y}, (direction + 2) % 4);
    }
    [[nodiscard]] bool is_edge(Corner at, int direction) const {
        return module_left(at, direction) && !module_right(at, direction);
    }
    [[nodiscard]] std::uint8_t& used_at(Corner at) {
        return used_[std::size_t(at.y) * std::size_t(wide_) + std::size_t(at.x)];
    }
    [[nodiscard]] bool used(Corner at, int direction) { return used_at(at) >> direction & 1; }

    Loop walk(const Corner start, const int start_direction) {
        Loop loop;
        Corner at = start;
        int direction = start_direction;
        double twice_area = 0;
        const Corner inside = left_of[static_cast<std::size_t>(direction)];
        loop.component = component_[grid_.index(at.x + inside.x, at.y + inside.y)];
        do {
            used_at(at) |= static_cast<std::uint8_t>(1 << direction);
            const Corner step = steps[static_cast<std::size_t>(direction)], next{at.x + step.x, at.y + step.y};
            twice_area -= double(at.x) * next.y - double(next.x) * at.y; // y runs down
            at = next;
            const int turned = turn(at, direction);
            put_corner(loop.points, at, direction, turned);
            direction = turned;
        } while (!(at == start && direction == start_direction));
        loop.outer = twice_area > 0;
        return loop;
    }

    /// To the right first, so that modules that meet at a corner stay together.
    [[nodiscard]] int turn(Corner at, int direction) const {
        for (const int by : {right_turn, 0, 1})
            if (const int next = (direction + by) % 4; is_edge(at, next)) return next;
        return (direction + 2) % 4; // not reached: every corner is left by as many edges as reach it
    }

    void put_corner(std::vector<Vec2>& points, Corner at, int from, int to) const {
        if (from == to) return;
        const bool contact = to == (from + right_turn) % 4 && is_contact(at);
        if (!contact) return points.push_back(millimetres(at.x, at.y));
        const Corner in = steps[static_cast<std::size_t>(from)], out = steps[static_cast<std::size_t>(to)];
        points.push_back(millimetres(at.x - size_.corner * in.x, at.y - size_.corner * in.y));
        points.push_back(millimetres(at.x + size_.corner * out.x, at.y + size_.corner * out.y));
    }
    [[nodiscard]] bool is_contact(Corner at) const {
        return grid_.at(at.x, at.y) == grid_.at(at.x - 1, at.y - 1) &&
               grid_.at(at.x - 1, at.y) == grid_.at(at.x, at.y - 1) && grid_.at(at.x, at.y) != grid_.at(at.x - 1, at.y);
    }
    [[nodiscard]] Vec2 millimetres(double x, double y) const { return place_in(grid_, size_, x, y); }

    /// Modules that meet along an edge or at a corner are one component.
    void label() {
        std::vector<std::pair<int, int>> waiting;
        for (int row = 0; row < grid_.rows; ++row)
            for (int column = 0; column < grid_.columns; ++column) {
                if (!take(column, row, waiting)) continue;
                while (!waiting.empty()) {
                    const auto [x, y] = waiting.back();
                    waiting.pop_back();
                    for (int dy = -1; dy <= 1; ++dy)
                        for (int dx = -1; dx <= 1; ++dx)
                            take(x + dx, y + dy, waiting);
                }
                ++components_;
            }
    }
    /// Into the component that is being gathered.
    bool take(int column, int row, std::vector<std::pair<int, int>>& waiting) {
        if (!grid_.at(column, row) || component_[grid_.index(column, row)] >= 0) return false;
        component_[grid_.index(column, row)] = components_;
        waiting.emplace_back(column, row);
        return true;
    }

    static void add(const Loop& loop, geometry::Outline& outline) {
        geometry::Region& region = outline.regions[static_cast<std::size_t>(loop.component)];
        geometry::Contour contour = geometry::contour_of(loop.points);
        if (loop.outer)
            region.outer = std::move(contour);
        else
            region.holes.push_back(std::move(contour));
    }

    const ModuleGrid& grid_;
    const ModuleSize& size_;
    int wide_, components_ = 0;
    std::vector<std::uint8_t> used_; ///< a bit a direction for each corner
    std::vector<int> component_;
};

} // namespace

Vec2 place_in(const ModuleGrid& grid, const ModuleSize& size, double column, double row) {
    return {(column - grid.columns / 2.0) * size.width, (grid.rows / 2.0 - row) * size.height};
}

geometry::Outline outline_of(const ModuleGrid& grid, const ModuleSize& size) {
    return Tracer(grid, size).trace();
}

geometry::Outline grooves_of(const ModuleGrid& grid, const ModuleSize& size, int grooves, double share) {
    geometry::Outline outline;
    const double apart = size.width / grooves, half = apart * share / 2;
    const auto add = [&](int column, int from, int to) {
        const Vec2 high = place_in(grid, size, column, from), low = place_in(grid, size, column, to);
        for (int i = 0; i < grooves; ++i) {
            const double middle = high.x + apart * (i + 0.5);
            const std::array<Vec2, 4> corners{
                {{middle - half, low.y}, {middle + half, low.y}, {middle + half, high.y}, {middle - half, high.y}}};
            outline.regions.push_back({geometry::contour_of(corners), {}});
        }
    };
    for (int column = 0; column < grid.columns; ++column)
        for (int row = 0; row < grid.rows; ++row) {
            const int from = row;
            while (grid.at(column, row))
                ++row;
            if (row > from) add(column, from, row);
        }
    return outline;
}

} // namespace touchmark::content
