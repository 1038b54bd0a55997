// SPDX-License-Identifier: MIT
#include "core/print/rise.h"

#include <algorithm>
#include <cmath>

namespace touchmark::print {

double Rise::height(double place) const {
    const double steps = (place - from) / step;
    const auto last = static_cast<double>(heights.size() - 2);
    const auto i = static_cast<std::size_t>(std::clamp(std::floor(steps), 0.0, last));
    return heights[i] + (steps - static_cast<double>(i)) * (heights[i + 1] - heights[i]);
}

double Rise::place(double height) const {
    const auto above = std::upper_bound(heights.begin() + 1, heights.end() - 1, height);
    const auto i = static_cast<std::size_t>(above - heights.begin()) - 1;
    return from + step * (static_cast<double>(i) + (height - heights[i]) / (heights[i + 1] - heights[i]));
}

} // namespace touchmark::print
