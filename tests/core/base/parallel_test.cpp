// SPDX-License-Identifier: MIT
#include "core/base/parallel.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <mutex>
#include <stdexcept>

namespace touchmark {
namespace {

TEST(SideBySide, DoesEverythingOnceAndNoWorkerTwoThingsAtOnce) {
    for (const std::size_t count : {0u, 1u, 3u, 1000u}) {
        std::vector<std::atomic<int>> done(count), busy(most_workers());
        side_by_side(count, [&](std::size_t i, std::size_t worker) {
            ASSERT_LT(worker, busy.size());
            EXPECT_EQ(busy[worker]++, 0);
            ++done[i];
            --busy[worker];
        });
        EXPECT_TRUE(std::ranges::all_of(done, [](const auto& times) { return times == 1; })) << count;
    }
}

TEST(SideBySide, ThrowsWhatACallThrew) {
    std::atomic<int> others = 0;
    const auto work = [&](std::size_t i, std::size_t) {
        if (i == 7) throw std::runtime_error("seven");
        ++others;
    };
    EXPECT_THROW(side_by_side(100, work), std::runtime_error);
    EXPECT_LT(others, 100);
}

TEST(InStretches, CoverAllWithoutGapsAndAreNoShorterThanAsked) {
    for (const std::size_t count : {0u, 1u, 7u, 64u, 1001u})
        for (const std::size_t least : {1u, 16u, 5000u}) {
            std::mutex lock;
            std::vector<std::pair<std::size_t, std::size_t>> stretches;
            in_stretches(count, least, [&](std::size_t first, std::size_t last) {
                const std::lock_guard guard(lock);
                stretches.emplace_back(first, last);
            });
            std::ranges::sort(stretches);
            std::size_t at = 0;
            for (const auto& [first, last] : stretches) {
                EXPECT_EQ(first, at);
                EXPECT_TRUE(stretches.size() == 1 || last - first >= least) << count << ' ' << least;
                at = last;
            }
            EXPECT_EQ(at, count);
        }
}

} // namespace
} // namespace touchmark
