// SPDX-License-Identifier: MIT
#pragma once

// Looking for what makes a sheet likeliest. Internal to fitting.

#include <functional>
#include <optional>
#include <span>
#include <vector>

namespace touchmark::fitting {

struct Range {
    double low = 0, high = 1;
};

/// A function of a few figures, each within its range, as small as it gets: minus twice the logarithm of a likelihood.
/// One figure after the other is moved to where the function is least (R. P. Brent, "Algorithms for Minimization
/// without Derivatives", 1973), round and round until nothing moves; a scan over the whole range comes first.
class Search {
public:
    using Function = std::function<double(std::span<const double>)>;
    Search(std::vector<Range> ranges, Function deviance) : ranges_(std::move(ranges)), deviance_(std::move(deviance)) {}

    struct Found {
        std::vector<double> at;
        double deviance = 0;
    };
    [[nodiscard]] Found best(std::vector<double> start) const;
    /// With one of them held where it is said to be; how much greater the deviance is there than at its best.
    [[nodiscard]] double excess(const Found& best, std::size_t held, double value) const;

    /// What an excess of no more than `critical` allows of one of them. Open where that reaches the end of its range.
    struct Interval {
        double low = 0, high = 0;
        bool low_open = false, high_open = false;
    };
    [[nodiscard]] Interval interval(const Found& best, std::size_t of, double critical) const;

private:
    [[nodiscard]] bool free(std::size_t which) const { return ranges_[which].low < ranges_[which].high; }
    [[nodiscard]] Found descend(std::vector<double> at, std::size_t held, bool scan) const;
    [[nodiscard]] double move(std::vector<double>& at, std::size_t which, double reach) const;

    std::vector<Range> ranges_;
    Function deviance_;
};

/// Of a likelihood ratio with one figure, 95 % (S. S. Wilks, Ann. Math. Stat. 9, 1938): the chi-squared quantile.
[[nodiscard]] double critical_excess();
/// The same where the deviance is (n) log of a sum of n squares, of which `free` are free (so many readings less so
/// many figures): exact for readings that scatter normally about a straight line.
[[nodiscard]] double critical_excess(double squares, double free);

} // namespace touchmark::fitting
