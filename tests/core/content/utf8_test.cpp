// SPDX-License-Identifier: MIT
#include "core/content/utf8.h"

#include <gtest/gtest.h>

namespace touchmark::content {
namespace {

TEST(Utf8, TheExamplesOfRfc3629AreRead) {
    // RFC 3629, section 7.
    EXPECT_EQ(decode_utf8("\x41\xE2\x89\xA2\xCE\x91\x2E"), (std::u32string{0x41, 0x2262, 0x391, 0x2E}));
    EXPECT_EQ(decode_utf8("\xED\x95\x9C\xEA\xB5\xAD\xEC\x96\xB4"), (std::u32string{0xD55C, 0xAD6D, 0xC5B4}));
    EXPECT_EQ(decode_utf8("\xEF\xBB\xBF\xF0\xA3\x8E\xB4"), (std::u32string{0xFEFF, 0x233B4}));
    EXPECT_EQ(decode_utf8(""), std::u32string());
}

TEST(Utf8, WhatTheUnicodeStandardCallsIllFormedIsRefused) {
    // The Unicode Standard 15.0, table 3-7: each is outside of it.
    for (const char* bad : {"\x80", "\xBF", "\xC0\x80", "\xC1\xBF", "\xC2", "\xC2\x41", "\xE0\x9F\xBF", "\xE0\xA0",
                            "\xED\xA0\x80", "\xED\xBF\xBF", "\xF0\x8F\xBF\xBF", "\xF0\x90\x80", "\xF4\x90\x80\x80",
                            "\xF5\x80\x80\x80", "\xFE", "\xFF", "a\xE2\x82", "\xF8\x88\x80\x80\x80"})
        EXPECT_FALSE(decode_utf8(bad)) << testing::PrintToString(std::string(bad));
}

TEST(Utf8, EveryScalarValueSurvivesThereAndBack) {
    std::u32string all;
    for (char32_t c = 1; c <= 0x10ffff; ++c)
        if (c < 0xd800 || c > 0xdfff) all += c;
    const std::string encoded = encode_utf8(all);
    // Bytes by the lengths of RFC 3629, section 3.
    EXPECT_EQ(encoded.size(), 0x7fu + 2 * 0x780u + 3 * (0x10000u - 0x800u - 0x800u) + 4 * 0x100000u);
    EXPECT_TRUE(decode_utf8(encoded) == all);
}

} // namespace
} // namespace touchmark::content
