// SPDX-License-Identifier: MIT
#include "core/print/distances.h"

#include <cmath>

namespace touchmark::print {
namespace {

/// The lower envelope of parabolas over one line: squares of distances.
class Envelope {
public:
    explicit Envelope(std::size_t longest) : place_(longest), from_(longest + 1) {}

    /// values[i] becomes the least of values[j] + (step (i − j))².
    void run(std::vector<double>& values, double step) {
        const std::size_t count = values.size();
        result_.resize(count);
        const auto place = [&](std::size_t i) { return step * static_cast<double>(i); };
        std::size_t last = 0;
        place_[0] = 0;
        from_[0] = -1e300;
        from_[1] = 1e300;
        for (std::size_t i = 1; i < count; ++i) {
            double meeting = 0;
            for (;; --last) {
                const std::size_t j = place_[last];
                const double a = values[i] + place(i) * place(i), b = values[j] + place(j) * place(j);
                meeting = (a - b) / (2 * (place(i) - place(j)));
                if (meeting > from_[last] || last == 0) break;
            }
            if (meeting <= from_[last])
                place_[last] = i; // the first one is hidden, too
            else {
                place_[++last] = i;
                from_[last] = meeting;
            }
            from_[last + 1] = 1e300;
        }
        last = 0;
        for (std::size_t i = 0; i < count; ++i) {
            while (from_[last + 1] < place(i))
                ++last;
            const double off = place(i) - place(place_[last]);
            result_[i] = values[place_[last]] + off * off;
        }
        values = result_;
    }

private:
    std::vector<std::size_t> place_;
    std::vector<double> from_, result_;
};

} // namespace

Field distances(const Grid& grid, const std::vector<char>& marked) {
    Field out(grid);
    const auto rows = static_cast<std::size_t>(grid.rows), columns = static_cast<std::size_t>(grid.columns);
    constexpr double far = 1e12;
    // A frame of cells beyond the edge.
    std::vector<double> squares((rows + 2) * (columns + 2), 0.0), line;
    for (std::size_t row = 0; row < rows; ++row)
        for (std::size_t column = 0; column < columns; ++column)
            if (marked[row * columns + column]) squares[(row + 1) * (columns + 2) + column + 1] = far;
    Envelope envelope(std::max(rows, columns) + 2);
    for (std::size_t column = 0; column < columns + 2; ++column) {
        line.clear();
        for (std::size_t row = 0; row < rows + 2; ++row)
            line.push_back(squares[row * (columns + 2) + column]);
        envelope.run(line, grid.step_y);
        for (std::size_t row = 0; row < rows + 2; ++row)
            squares[row * (columns + 2) + column] = line[row];
    }
    for (std::size_t row = 1; row <= rows; ++row) {
        const auto start = squares.begin() + static_cast<std::ptrdiff_t>(row * (columns + 2));
        line.assign(start, start + static_cast<std::ptrdiff_t>(columns + 2));
        envelope.run(line, grid.step_x);
        for (std::size_t column = 0; column < columns; ++column)
            out.values[(row - 1) * columns + column] = static_cast<float>(std::sqrt(line[column + 1]));
    }
    return out;
}

} // namespace touchmark::print
