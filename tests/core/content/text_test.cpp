// SPDX-License-Identifier: MIT
#include "tests/core/content/lettering.h"

#include <gmock/gmock.h>

#include <random>

namespace touchmark::content {
namespace {

using test::drawn;
using test::fonts;
using test::is_consistent;
using test::labels;
using test::refusal;
using testing::ElementsAre;

TEST(Text, TheFlatCapitalHIsExactlyAsHighAsTheCapHeight) {
    for (const char* family : {"DejaVu Sans", "DejaVu Serif", "Liberation Sans", "Roboto", "Inter", "Noto Sans"})
        for (const double height : {0.5, 5.0, 123.0}) {
            const Drawn h = drawn("H", family, height);
            EXPECT_NEAR(h.extent.height(), height, 1e-9 * height) << family;
            EXPECT_TRUE(is_consistent(h));
        }
}

TEST(Text, EveryPrintableLetterIsAValidOutline) {
    std::string line;
    for (char c = '!'; c <= '~'; ++c)
        line += c;
    for (const char* family : {"DejaVu Sans", "Liberation Serif", "Roboto"}) {
        const Drawn result = drawn(line, family);
        EXPECT_TRUE(is_consistent(result)) << family;
        EXPECT_TRUE(result.missing.empty());
        EXPECT_EQ(result.face.family, family);
    }
}

TEST(Text, DotsAndCountersAreRegionsAndHoles) {
    const Drawn i = drawn("i");
    ASSERT_EQ(i.pieces.size(), 1u);
    EXPECT_EQ(i.pieces[0].region_count, 2u);
    const Drawn eight = drawn("8");
    ASSERT_EQ(eight.outline.regions.size(), 1u);
    EXPECT_EQ(eight.outline.regions[0].holes.size(), 2u);
    const Drawn copyright = drawn("©"); // a letter within a ring
    ASSERT_EQ(copyright.outline.regions.size(), 2u);
    EXPECT_EQ(copyright.pieces.size(), 1u);
}

TEST(Text, PiecesComeInReadingOrder) {
    EXPECT_THAT(labels(drawn("AB\nC d")), ElementsAre("A", "B", "C", "d"));
    const Drawn hebrew = drawn("שלום", "Noto Sans Hebrew");
    EXPECT_THAT(labels(hebrew), ElementsAre("ש", "ל", "ו", "ם"));
    EXPECT_GT(hebrew.pieces.front().extent.low.x, hebrew.pieces.back().extent.high.x);
}

TEST(Text, JoinedArabicLettersAreOneArea) {
    // بيت: three letters that all join (the Unicode Standard 15.0, table 9-8); the dots lie apart.
    const Drawn word = drawn("بيت", "Noto Naskh Arabic");
    ASSERT_EQ(word.pieces.size(), 1u);
    EXPECT_EQ(word.pieces[0].label, "بيت");
    double widest = 0;
    for (const auto& region : word.outline.regions)
        widest = std::max(widest, bounds(region.outer).width());
    EXPECT_GT(widest, 0.95 * word.extent.width());
    EXPECT_TRUE(is_consistent(word));
}

TEST(Text, LettersSetTooTightGrowTogetherIntoOnePiece) {
    Text text{.text = "HHI"};
    EXPECT_THAT(labels(drawn(text)), ElementsAre("H", "H", "I"));
    text.letter_spacing = Mm(-1.4); // the stems are 2 × 188 units of 1,493 apart, 1.26 mm
    const Drawn tight = drawn(text);
    EXPECT_TRUE(is_consistent(tight));
    EXPECT_THAT(labels(tight), ElementsAre("HHI"));
}

TEST(Text, AllLettersOnOneSpotAreStillAValidOutline) {
    Text text{.text = "OQCGD"};
    text.letter_spacing = Mm(-5.5);
    const Drawn heap = drawn(text);
    EXPECT_EQ(heap.pieces.size(), 1u);
    EXPECT_TRUE(is_consistent(heap));
}

TEST(Text, LinesAreSetOneBelowTheOtherAtTheLinePitch) {
    for (const double spacing : {1.2, 1.6, 3.0}) {
        Text text{.text = "H\nH\r\n\nH"};
        text.cap_height = Mm(4);
        text.line_spacing = spacing;
        const Drawn block = drawn(text);
        ASSERT_EQ(block.pieces.size(), 3u);
        const auto base = [&](std::size_t i) { return block.pieces[i].extent.low.y; };
        EXPECT_NEAR(base(0) - base(1), 4 * spacing, 1e-9);
        EXPECT_NEAR(base(1) - base(2), 2 * 4 * spacing, 1e-9); // an empty line between
    }
}

TEST(Text, LinesAreAlignedLeftCentredOrRight) {
    Text text{.text = "HHHH\nHH"};
    const auto gaps = [&](Align align) {
        text.align = align;
        const Drawn block = drawn(text);
        return std::pair(block.pieces[4].extent.low.x - block.pieces[0].extent.low.x,
                         block.pieces[3].extent.high.x - block.pieces[5].extent.high.x);
    };
    const auto [left, right_of_left] = gaps(Align::left);
    EXPECT_NEAR(left, 0, 1e-9);
    const auto [left_of_centred, right_of_centred] = gaps(Align::centre);
    EXPECT_NEAR(left_of_centred, right_of_centred, 1e-9);
    EXPECT_NEAR(left_of_centred, right_of_left / 2, 1e-9);
    EXPECT_NEAR(gaps(Align::right).second, 0, 1e-9);
    // With letter spacing too: none after the last letter of a line.
    text.letter_spacing = Mm(1);
    EXPECT_NEAR(gaps(Align::right).second, 0, 1e-9);
    EXPECT_NEAR(gaps(Align::centre).first, gaps(Align::centre).second, 1e-9);
}

TEST(Text, LetterSpacingIsInMillimetres) {
    Text text{.text = "HIH"};
    const double plain = drawn(text).extent.width();
    text.letter_spacing = Mm(0.75);
    EXPECT_NEAR(drawn(text).extent.width(), plain + 1.5, 1e-9);
}

TEST(Text, MissingCharactersAreReportedWithTheirLineAndLeftOut) {
    const Drawn result = drawn("A中\nBไ");
    EXPECT_THAT(labels(result), ElementsAre("A", "B"));
    ASSERT_EQ(result.missing.size(), 2u);
    EXPECT_EQ(result.missing[0].character, "中");
    EXPECT_EQ(result.missing[0].code_point, U'中');
    EXPECT_EQ(result.missing[0].line, 0u);
    EXPECT_EQ(result.missing[1].character, "ไ");
    EXPECT_EQ(result.missing[1].line, 1u);
    const Drawn nothing = drawn("中");
    EXPECT_TRUE(nothing.outline.empty());
    EXPECT_EQ(nothing.missing.size(), 1u);
}

TEST(Text, NothingToDrawIsRefused) {
    for (const char* text : {"", " ", "\n\n", "\t", "\u200B", "\u00A0"})
        EXPECT_EQ(refusal({.text = text}), "content.empty") << testing::PrintToString(std::string(text));
}

TEST(Text, BadUtf8IsRefused) {
    EXPECT_EQ(refusal({.text = "A\xff"}), "content.bad_utf8");
    EXPECT_EQ(refusal({.text = "Stra\xdf"
                               "e"}),
              "content.bad_utf8");                                    // Latin-1
    EXPECT_EQ(refusal({.text = "\xed\xa0\x80"}), "content.bad_utf8"); // a surrogate
}

TEST(Text, TenThousandCharactersAreDrawnAndOneMoreIsRefused) {
    std::string text;
    for (int i = 0; i < 10'000; ++i)
        text += i % 100 == 99 ? '\n' : static_cast<char>('a' + i % 26);
    const Drawn page = drawn(text);
    EXPECT_GE(page.pieces.size(), 9'800u);
    EXPECT_EQ(refusal({.text = text + "a"}), "content.too_long");
    std::string wide;
    for (int i = 0; i < 10'001; ++i)
        wide += "\U0001D538";
    EXPECT_EQ(refusal({.text = wide}), "content.too_long");
}

TEST(Text, SizesOutOfRangeAreRefused) {
    const double inf = std::numeric_limits<double>::infinity(), nan = std::numeric_limits<double>::quiet_NaN();
    for (const double size : {0.0, -1.0, 10'001.0, inf, nan})
        EXPECT_EQ(refusal({.text = "A", .cap_height = Mm(size)}), "content.size") << size;
    for (const double spacing : {inf, nan, 1e6}) {
        EXPECT_EQ(refusal({.text = "A", .letter_spacing = Mm(spacing)}), "content.size") << spacing;
        EXPECT_EQ(refusal({.text = "A", .line_spacing = spacing}), "content.size") << spacing;
    }
}

TEST(Text, TheSameTextIsDrawnTheSameTwice) {
    const Drawn first = drawn("Ångström 12"), second = drawn("Ångström 12");
    EXPECT_EQ(first.outline, second.outline);
}

TEST(Text, AnyMixtureOfScriptsAndControlsIsDrawnOrRefused) {
    std::mt19937 random(20261125); // reproducible
    const std::u32string_view alphabet =
        U"AVfiffl01%@ "
        U"\t\n\r\u200D\u200F\u202E\u2067\uFE0F\u0301\u0323\u0315אבשלמיםسلامקرىक्षि\u093Fน้ำ中漢Ж\U0001F600\u0000";
    for (int round = 0; round < 60; ++round) {
        std::u32string text;
        for (std::size_t n = 1 + random() % 24; n > 0; --n)
            text += alphabet[random() % alphabet.size()];
        std::string bytes;
        for (const char32_t c : text) { // an encoder of the test's own
            if (c < 0x80)
                bytes += static_cast<char>(c);
            else if (c < 0x800)
                bytes += {static_cast<char>(0xc0 | (c >> 6)), static_cast<char>(0x80 | (c & 63))};
            else if (c < 0x10000)
                bytes += {static_cast<char>(0xe0 | (c >> 12)), static_cast<char>(0x80 | ((c >> 6) & 63)),
                          static_cast<char>(0x80 | (c & 63))};
            else
                bytes += {static_cast<char>(0xf0 | (c >> 18)), static_cast<char>(0x80 | ((c >> 12) & 63)),
                          static_cast<char>(0x80 | ((c >> 6) & 63)), static_cast<char>(0x80 | (c & 63))};
        }
        Text wish{.text = bytes};
        wish.letter_spacing = Mm(round % 3 == 0 ? -0.4 : 0);
        const auto result = draw(wish, fonts());
        if (result)
            EXPECT_TRUE(is_consistent(*result)) << testing::PrintToString(bytes);
        else
            EXPECT_EQ(result.error().code, "content.empty") << testing::PrintToString(bytes);
    }
}

} // namespace
} // namespace touchmark::content
