// SPDX-License-Identifier: MIT
#include "core/base/digest.h"

#include <gtest/gtest.h>

#include <bit>
#include <cmath>
#include <limits>
#include <set>

namespace touchmark {
namespace {

template <class... T> Digest of(const T&... values) {
    Digester digester;
    (digester.add(values), ...);
    return digester.digest();
}

TEST(Digest, ComesBackFromItsText) {
    const Digest digest{0x0123456789abcdefull, 0xfedcba9876543210ull};
    EXPECT_EQ(digest.text(), "0123456789abcdeffedcba9876543210");
    EXPECT_EQ(Digest::from_text(digest.text()), digest);
    EXPECT_EQ(Digest::from_text(Digest{}.text()), Digest{});
    for (const char* bad : {"", "0123", "0123456789abcdeffedcba987654321g", "0123456789abcdeffedcba98765432100",
                            "-123456789abcdeffedcba9876543210", " 123456789abcdeffedcba9876543210"})
        EXPECT_EQ(Digest::from_text(bad), std::nullopt) << bad;
}

TEST(Digester, TellsWhereOneTextEndsAndTheNextBegins) {
    EXPECT_NE(of("ab", "c"), of("a", "bc"));
    EXPECT_NE(of("a"), of("a", ""));
    EXPECT_NE(of(""), of());
    EXPECT_NE(of(std::string_view("a\0", 2)), of("a"));
    EXPECT_EQ(of("ab", "c"), of("ab", "c"));
}

TEST(Digester, TakesEqualNumbersAsEqual) {
    EXPECT_EQ(of(0.0), of(-0.0));
    EXPECT_EQ(of(std::numeric_limits<double>::quiet_NaN()), of(-std::numeric_limits<double>::signaling_NaN()));
    EXPECT_NE(of(1.0), of(std::nextafter(1.0, 2.0)));
    EXPECT_NE(of(1, 2), of(2, 1));
}

TEST(Digester, ManySimilarValuesAllDiffer) {
    std::set<Digest> seen;
    for (int i = 0; i < 20'000; ++i) {
        seen.insert(of(i));
        seen.insert(of(std::to_string(i)));
        seen.insert(of(1.0 + i * 1e-12));
    }
    EXPECT_EQ(seen.size(), 60'000u);
}

// A good mixing function changes each output bit with probability one half when one input bit changes.
TEST(Digester, OneBitOfInputChangesHalfTheBitsOfOutput) {
    double changed = 0;
    int fewest = 128;
    for (int bit = 0; bit < 64; ++bit)
        for (std::uint64_t base : {0ull, 1ull, 0xdeadbeefull, ~0ull}) {
            const Digest a = of(base), b = of(base ^ (1ull << bit));
            const int bits = std::popcount(a.high ^ b.high) + std::popcount(a.low ^ b.low);
            changed += bits / 256.0;
            fewest = std::min(fewest, bits);
        }
    EXPECT_NEAR(changed, 64, 2); // binomial over 32,768 bits: the mean of 256 is 64 ± 0.35
    EXPECT_GT(fewest, 32);
}

} // namespace
} // namespace touchmark
