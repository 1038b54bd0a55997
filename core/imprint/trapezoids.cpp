// SPDX-License-Identifier: MIT
#include "core/imprint/trapezoids.h"

#include <algorithm>
#include <cstdint>

namespace touchmark::imprint {
namespace {

struct Side {
    Vec2 low, high;
    [[nodiscard]] double at(double y) const { return low.x + (high.x - low.x) * (y - low.y) / (high.y - low.y); }
};

struct Open {
    std::uint32_t left, right;
    double from;
};

} // namespace

std::vector<std::array<Vec2, 4>> trapezoids(std::span<const geometry::Polygon> polygons) {
    std::vector<Side> sides;
    std::vector<double> levels;
    for (const geometry::Polygon& polygon : polygons)
        for (std::size_t i = 0; i < polygon.size(); ++i) {
            const Vec2 a = polygon[i], b = polygon[(i + 1) % polygon.size()];
            levels.push_back(a.y);
            if (a.y != b.y) sides.push_back(a.y < b.y ? Side{a, b} : Side{b, a});
        }
    std::sort(levels.begin(), levels.end());
    levels.erase(std::unique(levels.begin(), levels.end()), levels.end());
    std::sort(sides.begin(), sides.end(), [](const Side& p, const Side& q) { return p.low.y < q.low.y; });

    std::vector<std::array<Vec2, 4>> out;
    std::vector<std::uint32_t> active;
    std::vector<Open> open, still;
    const auto close = [&](const Open& item, double y) {
        const Side &l = sides[item.left], &r = sides[item.right];
        out.push_back({Vec2{l.at(item.from), item.from}, {r.at(item.from), item.from}, {r.at(y), y}, {l.at(y), y}});
    };
    std::size_t next = 0;
    for (std::size_t k = 0; k + 1 < levels.size(); ++k) {
        const double y = levels[k], middle = (y + levels[k + 1]) / 2;
        std::erase_if(active, [&](std::uint32_t i) { return sides[i].high.y <= y; });
        while (next < sides.size() && sides[next].low.y <= y)
            active.push_back(static_cast<std::uint32_t>(next++));
        std::sort(active.begin(), active.end(),
                  [&](std::uint32_t p, std::uint32_t q) { return sides[p].at(middle) < sides[q].at(middle); });
        still.clear();
        for (std::size_t i = 0; i + 1 < active.size(); i += 2) {
            const auto same = std::find_if(open.begin(), open.end(), [&](const Open& item) {
                return item.left == active[i] && item.right == active[i + 1];
            });
            still.push_back({active[i], active[i + 1], same == open.end() ? y : same->from});
            if (same != open.end()) open.erase(same);
        }
        for (const Open& item : open)
            close(item, y);
        open.swap(still);
    }
    for (const Open& item : open)
        close(item, levels.back());
    return out;
}

} // namespace touchmark::imprint
