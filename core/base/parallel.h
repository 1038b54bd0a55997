// SPDX-License-Identifier: MIT
#pragma once

// Work shared among a few threads.

#include <algorithm>
#include <atomic>
#include <cstddef>
#include <future>
#include <thread>
#include <vector>

namespace touchmark {

/// How many threads share a piece of work: the machine's, but few, for evaluations may run at once.
[[nodiscard]] inline std::size_t most_workers() {
    static const std::size_t count = std::clamp<std::size_t>(std::thread::hardware_concurrency(), 1, 4);
    return count;
}

/// Calls `work(i, worker)` for every i below `count`, at once on up to most_workers() threads, the caller's among them.
/// `worker` is below most_workers() and tells threads apart. What a call throws is thrown here, once all have ended.
/// REQUIRES: calls may run at once.
template <class Work> void side_by_side(std::size_t count, Work&& work) {
    std::atomic<std::size_t> next = 0;
    const auto take = [&](std::size_t worker) {
        for (std::size_t i = next++; i < count; i = next++)
            work(i, worker);
    };
    std::vector<std::future<void>> others;
    for (std::size_t worker = 1; worker < std::min(most_workers(), count); ++worker)
        others.push_back(std::async(std::launch::async, take, worker));
    take(0);
    for (std::future<void>& other : others)
        other.get();
}

/// The same for many small pieces of work, which each thread takes by the block: neighbours often share memory, and
/// threads that write to it in turn wait for each other. Those below `large` are taken first and each alone;
/// fewer than a hundred are done by the caller, in order. REQUIRES: large ≤ 100.
template <class Work> void side_by_side_in_blocks(std::size_t count, std::size_t large, Work&& work) {
    constexpr std::size_t block = 64, worth_threads = 100;
    if (count < worth_threads) {
        for (std::size_t i = 0; i < count; ++i)
            work(i);
        return;
    }
    const std::size_t blocks = (count - large + block - 1) / block;
    side_by_side(large + blocks, [&](std::size_t i, std::size_t) {
        if (i < large) return work(i);
        const std::size_t first = large + (i - large) * block;
        for (std::size_t k = first; k < std::min(first + block, count); ++k)
            work(k);
    });
}

/// Calls `work(first, last)` for stretches that make up 0…count, none shorter than `least` where there are two.
template <class Work> void in_stretches(std::size_t count, std::size_t least, Work&& work) {
    const std::size_t stretches = std::clamp<std::size_t>(count / std::max<std::size_t>(least, 1), 1, most_workers());
    side_by_side(stretches,
                 [&](std::size_t i, std::size_t) { work(count * i / stretches, count * (i + 1) / stretches); });
}

} // namespace touchmark
