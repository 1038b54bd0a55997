// SPDX-License-Identifier: MIT
#include "core/print/fidelity.h"

#include "core/print/distances.h"

#include <algorithm>
#include <cmath>
#include <future>

namespace touchmark::print {
namespace {

constexpr double widest_gap = 6; // mm: what is wider is no gap between strokes
constexpr double give = 0.15;    // mm that a stroke may lie beside its plan
constexpr float half = 0.5F;
/// Of the strokes' length by the letter's size: the opening in a P has twice as much. A notch of less than that is
/// nothing that a reader looks for.
constexpr double least_opening = 4e-4;

/// The middle lines of what is marked: where the distance to its edge has no clear slope. What runs into a corner of
/// more than some 40 degrees has one and does not count: no line reaches in there, and nobody misses it.
class MiddleLines {
public:
    MiddleLines(const Grid& grid, const std::vector<char>& marked)
        : marked_(marked), to_edge_(distances(grid, marked)) {}

    /// 1 on a middle line, 0 off it; in between where the slope is neither clear nor none, so that no figure hangs on
    /// how the cells happen to lie.
    [[nodiscard]] double weight(int x, int y) const {
        const Grid& grid = to_edge_.grid;
        if (x < 2 || y < 2 || x + 2 >= grid.columns || y + 2 >= grid.rows || !marked_[grid.index(x, y)]) return 0;
        const double dx = (to_edge_.at(x + 2, y) - to_edge_.at(x - 2, y)) / (4 * grid.step_x);
        const double dy = (to_edge_.at(x, y + 2) - to_edge_.at(x, y - 2)) / (4 * grid.step_y);
        constexpr double clear = 0.3;
        return std::max(0.0, 1 - (dx * dx + dy * dy) / (clear * clear));
    }
    [[nodiscard]] double to_edge(int x, int y) const { return to_edge_.at(x, y); }

private:
    const std::vector<char>& marked_;
    Field to_edge_;
};

struct Lines {
    MiddleLines strokes, gaps;
};
/// Both at once. REQUIRES: the masks outlive them.
Lines lines_of(const Grid& grid, const std::vector<char>& planned, const std::vector<char>& beside) {
    auto strokes = std::async(std::launch::async, [&] { return MiddleLines(grid, planned); });
    MiddleLines gaps(grid, beside);
    return {strokes.get(), std::move(gaps)};
}

struct Window {
    int left, right, bottom, top; ///< cells, right and top excluded
};

Window window_of(const Grid& grid, const Box2& box) {
    const auto column = [&](double x) {
        return std::clamp(static_cast<int>(std::floor((x - grid.low.x) / grid.step_x)), 0, grid.columns);
    };
    const auto row = [&](double y) {
        return std::clamp(static_cast<int>(std::floor((y - grid.low.y) / grid.step_y)), 0, grid.rows);
    };
    return {column(box.low.x), std::min(column(box.high.x) + 1, grid.columns), row(box.low.y),
            std::min(row(box.high.y) + 1, grid.rows)};
}

class Judge {
public:
    Judge(const Printed& printed, double came_out)
        : printed_(printed), came_out_(came_out), planned_(mask(true)), beside_(mask(false)),
          lines_(lines_of(printed.ideal.grid, planned_, beside_)) {}

    [[nodiscard]] Fidelity of(const Box2& box) const {
        const Grid& grid = printed_.ideal.grid;
        const Window window = window_of(grid, box);
        Sum strokes, gaps, depth;
        double both = 0, either = 0, worst = 2;
        Fidelity out;
        Vec2 worst_at = grid.middle(window.left, window.bottom);
        for (int y = window.bottom; y < window.top; ++y)
            for (int x = window.left; x < window.right; ++x) {
                const bool plan = planned_[grid.index(x, y)], there = retained(x, y) >= half;
                both += plan && there;
                either += plan || there;
                const double on_stroke = lines_.strokes.weight(x, y),
                             on_gap = on_stroke > 0 ? 0 : lines_.gaps.weight(x, y);
                const bool stroke = on_stroke > 0;
                if (!stroke && !(on_gap > 0 && 2 * lines_.gaps.to_edge(x, y) <= widest_gap)) continue;
                const double share = best_near(x, y, stroke);
                if (stroke)
                    strokes.add(share >= came_out_, on_stroke);
                else // where a gap runs out little of it is to be seen
                    gaps.add(share < half, on_gap * lines_.gaps.to_edge(x, y));
                if (stroke) depth.add(std::min(share, 1.0), on_stroke);
                const double rightness = stroke ? share : 1 - share;
                if (rightness < worst) worst = rightness, worst_at = grid.middle(x, y);
            }
        out.strokes = strokes.mean();
        gaps.make_up_to(least_opening * strokes.count * std::max(box.width(), box.height()));
        out.gaps = gaps.mean();
        out.depth = depth.mean();
        out.overlap = either > 0 ? both / either : 1;
        out.worst = printed_.to_mark(worst_at);
        return out;
    }

private:
    struct Sum {
        double sum = 0, count = 0;
        void add(double value, double weight = 1) { sum += value * weight, count += weight; }
        /// With ones.
        void make_up_to(double least) {
            if (count < least) add(1, least - count);
        }
        [[nodiscard]] double mean() const { return count > 0 ? sum / count : 1; }
    };
    [[nodiscard]] std::vector<char> mask(bool covered) const {
        std::vector<char> out;
        for (const float share : printed_.ideal.values)
            out.push_back((share >= half) == covered);
        return out;
    }
    [[nodiscard]] double retained(int x, int y) const { return printed_.retained(printed_.relief.at(x, y)); }
    /// A stroke may lie a little beside its plan, no farther than its own edge.
    [[nodiscard]] double best_near(int x, int y, bool stroke) const {
        const Grid& grid = printed_.ideal.grid;
        const double reach = std::min(give, (stroke ? lines_.strokes : lines_.gaps).to_edge(x, y) - grid.step_x);
        const int across = std::max(0, static_cast<int>(reach / grid.step_x)),
                  along = std::max(0, static_cast<int>(reach / grid.step_y));
        double best = retained(x, y);
        for (int j = std::max(0, y - along); j <= std::min(grid.rows - 1, y + along); ++j)
            for (int i = std::max(0, x - across); i <= std::min(grid.columns - 1, x + across); ++i)
                best = stroke ? std::max(best, retained(i, j)) : std::min(best, retained(i, j));
        return best;
    }

    const Printed& printed_;
    double came_out_;
    std::vector<char> planned_, beside_;
    Lines lines_;
};

Box2 carried(const Box2& box, const geometry::Affine& map) {
    Box2 out;
    for (const Vec2 corner : box.corners())
        out.add(map(corner));
    return out;
}

} // namespace

double Fidelity::figure() const {
    // Where gaps run out in corners no print keeps them; a thin stroke loses up to half its area and still reads.
    return std::min({strokes, gaps / 0.85, overlap / 0.5});
}

std::vector<Fidelity> fidelity_of(const Printed& printed, std::span<const Box2> pieces, double came_out) {
    const Judge judge(printed, came_out);
    std::vector<Fidelity> out;
    for (const Box2& piece : pieces)
        out.push_back(judge.of(carried(piece, printed.from_mark)));
    return out;
}

} // namespace touchmark::print
