// SPDX-License-Identifier: MIT
#include "core/print/distances.h"

#include <algorithm>
#include <cmath>
#include <span>

namespace touchmark::print {
namespace {

/// The lower envelope of parabolas over one line: squares of distances.
class Envelope {
public:
    explicit Envelope(std::size_t longest) : place_(longest), from_(longest + 1) {
        for (std::size_t i = 0; i < longest; ++i)
            half_of_.push_back(i > 0 ? 0.5 / static_cast<double>(i) : 0);
    }

    /// lowest(i, least of values[j] + (i − j)²) for all but the first and the last.
    template <class Lowest> void run(std::span<const double> values, Lowest&& lowest) {
        std::size_t last = 0;
        place_[0] = 0;
        from_[0] = -1e300;
        for (std::size_t i = 1; i < values.size(); ++i) {
            const auto place = static_cast<double>(i);
            const double own = values[i] + place * place;
            double meeting = 0;
            for (;; --last) {
                const std::size_t j = place_[last];
                const auto other = static_cast<double>(j);
                meeting = (own - values[j] - other * other) * half_of_[i - j];
                if (meeting > from_[last] || last == 0) break;
            }
            if (meeting > from_[last]) ++last; // else the first one is hidden, too
            place_[last] = i;
            from_[last] = last > 0 ? meeting : -1e300;
        }
        from_[last + 1] = 1e300;
        last = 0;
        for (std::size_t i = 1; i + 1 < values.size(); ++i) {
            while (from_[last + 1] < static_cast<double>(i))
                ++last;
            const double off = static_cast<double>(i) - static_cast<double>(place_[last]);
            lowest(i, values[place_[last]] + off * off);
        }
    }

private:
    std::vector<std::size_t> place_;
    std::vector<double> from_, half_of_;
};

/// For each cell how many cells up or down in its column the nearest lies that is not marked; beyond the edge none is.
std::vector<float> down_the_columns(const Grid& grid, const std::vector<char>& marked) {
    std::vector<float> away(grid.cells());
    const auto columns = static_cast<std::size_t>(grid.columns), rows = static_cast<std::size_t>(grid.rows);
    for (std::size_t row = 0; row < rows; ++row)
        for (std::size_t i = row * columns; i < (row + 1) * columns; ++i)
            away[i] = marked[i] ? (row > 0 ? away[i - columns] : 0) + 1 : 0;
    for (std::size_t row = rows; row-- > 0;)
        for (std::size_t i = row * columns; i < (row + 1) * columns; ++i)
            away[i] = std::min(away[i], (row + 1 < rows ? away[i + columns] : 0) + 1);
    return away;
}

} // namespace

Field distances(const Grid& grid, const std::vector<char>& marked) {
    Field out(grid);
    const std::vector<float> away = down_the_columns(grid, marked);
    const auto columns = static_cast<std::size_t>(grid.columns);
    const double shape = grid.step_y / grid.step_x;
    in_rows(grid, [&](int first, int last) {
        std::vector<double> line(columns + 2, 0.0); // with a cell beyond either edge
        Envelope envelope(line.size());
        for (std::size_t row = static_cast<std::size_t>(first); row < static_cast<std::size_t>(last); ++row) {
            const std::size_t start = row * columns;
            for (std::size_t column = 0; column < columns; ++column) {
                const double off = away[start + column] * shape;
                line[column + 1] = off * off;
            }
            // What lies beyond a cell that is not marked is farther off than that cell.
            for (std::size_t column = 0; column < columns;) {
                if (!marked[start + column]) {
                    ++column;
                    continue;
                }
                const std::size_t from = column;
                while (column < columns && marked[start + column])
                    ++column;
                envelope.run(std::span(line).subspan(from, column - from + 2), [&](std::size_t i, double square) {
                    out.values[start + from + i - 1] = static_cast<float>(std::sqrt(square) * grid.step_x);
                });
            }
        }
    });
    return out;
}

} // namespace touchmark::print
