// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

namespace touchmark::print {

/// How high a curved face lies along a line on it: mm over some level, at places `step` mm apart from `from` on, each
/// higher than the one before. Beyond its ends it goes on straight.
struct Rise {
    double from = 0, step = 1;
    std::vector<double> heights; ///< two at least, or none: the face is straight

    [[nodiscard]] bool empty() const { return heights.empty(); }
    /// REQUIRES: not empty.
    [[nodiscard]] double height(double place) const;
    /// Where it is so high. REQUIRES: not empty.
    [[nodiscard]] double place(double height) const;
    friend bool operator==(const Rise&, const Rise&) = default;
};

} // namespace touchmark::print
