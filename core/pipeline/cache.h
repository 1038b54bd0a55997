// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/digest.h"
#include "core/base/progress.h"
#include "core/base/result.h"

#include <chrono>
#include <condition_variable>
#include <list>
#include <memory>
#include <mutex>
#include <unordered_map>

namespace touchmark::pipeline {

/// Values by the digest of what they were computed from; the least recently used go first. Two threads that want the
/// same value compute it once: the second waits for the first. Failures are not kept.
template <class T> class Cache {
public:
    using Pointer = std::shared_ptr<const T>;

    explicit Cache(std::size_t capacity) : capacity_(capacity) {}

    /// `make` returns Result<Pointer>. Errors: "cancelled", and make's.
    template <class Make> [[nodiscard]] Result<Pointer> get(const Digest& key, const Progress& progress, Make&& make) {
        std::unique_lock lock(mutex_);
        for (;;) {
            if (Pointer found = find(key)) return found;
            const auto running = entries_.find(key);
            if (running == entries_.end()) break;
            // A waiter looks up now and then, for nobody wakes it when its own work is cancelled.
            arrived_.wait_for(lock, std::chrono::milliseconds(20));
            if (progress.cancelled()) return fail(std::string(cancelled_code), "Cancelled.");
        }
        entries_.emplace(key, Entry{nullptr, order_.end()});
        lock.unlock();
        Result<Pointer> made = nullptr;
        try {
            made = make();
        } catch (...) { // out of memory: the waiters must not wait for ever
            lock.lock();
            entries_.erase(key);
            arrived_.notify_all();
            throw;
        }
        lock.lock();
        if (made)
            keep(key, *made);
        else
            entries_.erase(key);
        arrived_.notify_all();
        return made;
    }

    /// What is there already; nullptr otherwise.
    [[nodiscard]] Pointer peek(const Digest& key) {
        const std::lock_guard lock(mutex_);
        return find(key);
    }
    void put(const Digest& key, Pointer value) {
        const std::lock_guard lock(mutex_);
        if (!find(key)) entries_.insert_or_assign(key, Entry{nullptr, order_.end()}), keep(key, std::move(value));
    }
    /// In the place of what is there.
    void replace(const Digest& key, Pointer value) {
        const std::lock_guard lock(mutex_);
        if (find(key))
            entries_[key].value = std::move(value);
        else if (!entries_.contains(key))
            keep(key, std::move(value));
    }
    [[nodiscard]] std::size_t size() const {
        const std::lock_guard lock(mutex_);
        return order_.size();
    }

private:
    struct Entry {
        Pointer value; ///< null while being computed
        std::list<Digest>::iterator place;
    };

    Pointer find(const Digest& key) {
        const auto found = entries_.find(key);
        if (found == entries_.end() || !found->second.value) return nullptr;
        order_.splice(order_.begin(), order_, found->second.place);
        return found->second.value;
    }
    void keep(const Digest& key, Pointer value) {
        order_.push_front(key);
        entries_[key] = {std::move(value), order_.begin()};
        while (order_.size() > capacity_) {
            entries_.erase(order_.back());
            order_.pop_back();
        }
    }

    mutable std::mutex mutex_;
    std::condition_variable arrived_;
    std::list<Digest> order_; ///< the most recently used first
    std::unordered_map<Digest, Entry> entries_;
    const std::size_t capacity_;
};

} // namespace touchmark::pipeline
