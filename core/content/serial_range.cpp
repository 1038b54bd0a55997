// SPDX-License-Identifier: MIT
#include "core/content/serial_range.h"

#include <map>
#include <numeric>
#include <tuple>

namespace touchmark::content {
namespace {

constexpr double same_weight = 1e-9;

/// The term of an arithmetic progression that weighs most, counted from 0.
struct Pick {
    double weight = 0;
    std::int64_t term = -1;

    void take(const Pick& other) {
        if (term < 0 || other.weight > weight + same_weight ||
            (other.weight > weight - same_weight && other.term < term))
            *this = other;
    }
};

class Search {
public:
    Search(int digits, const DigitWeight& weight, const LeadWeight& lead)
        : digits_(digits), weight_(weight), lead_(lead) {}

    /// Of the numbers start + i · step, i < count, which the digits from `place` on make up.
    Pick best(int place, std::int64_t start, std::int64_t step, std::int64_t count, int right) {
        const auto key = std::tuple(place, start, count, right);
        constexpr std::int64_t worth_keeping = 8;
        if (count > worth_keeping)
            if (const auto known = known_.find(key); known != known_.end()) return known->second;
        Pick best;
        std::int64_t passed = 0;
        std::int64_t from = start, left = count;
        if (start == 0 && place > 0 && place >= digits_) { // nothing stands there
            best.take({lead_ ? lead_(right) : 0, 0});
            from = step, left = count - 1, passed = 1;
        }
        const std::int64_t period = 10 / std::gcd(std::int64_t{10}, step);
        for (std::int64_t i = 0; i < std::min(period, left); ++i) {
            const std::int64_t number = from + i * step;
            const int digit = static_cast<int>(number % 10);
            const Pick above =
                this->best(place + 1, number / 10, period * step / 10, (left - i + period - 1) / period, digit);
            best.take({weight_(digit, right) + above.weight, passed + i + period * above.term});
        }
        if (count > worth_keeping) known_.emplace(key, best);
        return best;
    }

private:
    int digits_;
    const DigitWeight& weight_;
    const LeadWeight& lead_;
    std::map<std::tuple<int, std::int64_t, std::int64_t, int>, Pick> known_; ///< the step follows from the place
};

} // namespace

Heaviest heaviest(const Serial& serial, const DigitWeight& weight, const LeadWeight& lead) {
    const Pick pick = Search(serial.digits, weight, lead).best(0, serial.start, serial.step, serial.count, -1);
    return {pick.weight, serial.start + serial.step * pick.term};
}

} // namespace touchmark::content
