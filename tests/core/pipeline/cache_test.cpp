// SPDX-License-Identifier: MIT
#include "core/pipeline/cache.h"

#include <atomic>
#include <gtest/gtest.h>
#include <latch>
#include <thread>

namespace touchmark::test {
namespace {

using Numbers = pipeline::Cache<int>;

Digest key(int n) {
    return Digester().add(n).digest();
}

auto make(int value, int& made) {
    return [value, &made]() -> Result<std::shared_ptr<const int>> {
        ++made;
        return std::make_shared<const int>(value);
    };
}

TEST(Cache, ComputesOnceAndForgetsTheLeastRecentlyUsed) {
    Numbers cache(2);
    const Progress progress;
    int made = 0;
    EXPECT_EQ(**cache.get(key(1), progress, make(1, made)), 1);
    EXPECT_EQ(**cache.get(key(2), progress, make(2, made)), 2);
    EXPECT_EQ(**cache.get(key(1), progress, make(1, made)), 1);
    EXPECT_EQ(made, 2);
    EXPECT_EQ(**cache.get(key(3), progress, make(3, made)), 3); // 2 was used longest ago
    EXPECT_EQ(cache.size(), 2u);
    EXPECT_NE(cache.peek(key(1)), nullptr);
    EXPECT_EQ(cache.peek(key(2)), nullptr);
    EXPECT_EQ(made, 3);
}

TEST(Cache, KeepsNoFailures) {
    Numbers cache(2);
    const Progress progress;
    int made = 0;
    const auto broken =
        cache.get(key(1), progress, []() -> Result<std::shared_ptr<const int>> { return fail("x", "X."); });
    EXPECT_FALSE(broken);
    EXPECT_EQ(**cache.get(key(1), progress, make(7, made)), 7);
}

TEST(Cache, TwoThreadsThatWantTheSameComputeItOnce) {
    Numbers cache(8);
    std::atomic<int> made = 0;
    std::latch started(1);
    const auto slow = [&]() -> Result<std::shared_ptr<const int>> {
        ++made;
        started.count_down();
        std::this_thread::sleep_for(std::chrono::milliseconds(50));
        return std::make_shared<const int>(5);
    };
    const Progress progress;
    std::jthread first([&] { EXPECT_EQ(**cache.get(key(1), progress, slow), 5); });
    started.wait();
    EXPECT_EQ(**cache.get(key(1), progress, slow), 5);
    EXPECT_EQ(made, 1);
}

TEST(Cache, AWaiterTakesOverWhenTheOtherFailsAndLeavesWhenItIsCancelled) {
    Numbers cache(8);
    std::latch started(1), release(1);
    const Progress progress;
    std::jthread first([&] {
        const auto result = cache.get(key(1), progress, [&]() -> Result<std::shared_ptr<const int>> {
            started.count_down();
            release.wait();
            return fail("cancelled", "Cancelled.");
        });
        EXPECT_FALSE(result);
    });
    started.wait();
    Progress unwanted;
    unwanted.cancel();
    int made = 0;
    const auto left = cache.get(key(1), unwanted, make(1, made));
    ASSERT_FALSE(left);
    EXPECT_EQ(left.error().code, cancelled_code);
    EXPECT_EQ(made, 0);
    release.count_down();
    EXPECT_EQ(**cache.get(key(1), progress, make(2, made)), 2);
}

TEST(Cache, AnExceptionDoesNotLeaveOthersWaiting) {
    Numbers cache(8);
    const Progress progress;
    int made = 0;
    EXPECT_THROW(
        (void)cache.get(key(1), progress, []() -> Result<std::shared_ptr<const int>> { throw std::bad_alloc(); }),
        std::bad_alloc);
    EXPECT_EQ(**cache.get(key(1), progress, make(3, made)), 3);
}

} // namespace
} // namespace touchmark::test
