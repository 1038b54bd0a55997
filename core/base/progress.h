// SPDX-License-Identifier: MIT
#pragma once

#include <atomic>
#include <functional>
#include <string_view>

namespace touchmark {

/// How long work reports how far it is and learns that nobody wants it any more. Safe to cancel from any thread;
/// reports arrive on the thread that does the work.
class Progress {
public:
    /// fraction is 0…1, or negative when unknown.
    using Report = std::function<void(double fraction, std::string_view text)>;

    Progress() = default;
    explicit Progress(Report report) : report_(std::move(report)) {}
    Progress(const Progress&) = delete;
    Progress& operator=(const Progress&) = delete;

    void report(double fraction, std::string_view text) const {
        if (report_) report_(fraction, text);
    }
    void cancel() { cancelled_.store(true, std::memory_order_relaxed); }
    [[nodiscard]] bool cancelled() const { return cancelled_.load(std::memory_order_relaxed); }

private:
    Report report_;
    std::atomic<bool> cancelled_ = false;
};

/// The error code of every call that was cancelled; nothing has changed when it comes back.
inline constexpr std::string_view cancelled_code = "cancelled";

} // namespace touchmark
