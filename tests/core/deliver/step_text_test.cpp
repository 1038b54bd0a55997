// SPDX-License-Identifier: MIT
#include "core/deliver/step_text.h"

#include <gtest/gtest.h>

namespace touchmark::deliver {
namespace {

// ISO 10303-21, clause 6.4.3 (from memory): \X2\ and four hexadecimal digits a character, \X4\ and eight, each closed
// by
// \X0\; \X\ and two digits for one byte. Code points from the Unicode charts: ä U+00E4, € U+20AC, 漢 U+6F22, 😀
// U+1F600.
TEST(EncodedStrings, UseTheStandardsDirectives) {
    EXPECT_EQ(with_encoded_strings("#1=X('Gehäuse');"), "#1=X('Geh\\X2\\00E4\\X0\\use');");
    EXPECT_EQ(with_encoded_strings("'€漢'"), "'\\X2\\20AC6F22\\X0\\'");
    EXPECT_EQ(with_encoded_strings("'😀'"), "'\\X4\\0001F600\\X0\\'");
    EXPECT_EQ(with_encoded_strings("'ä😀ä'"), "'\\X2\\00E4\\X0\\\\X4\\0001F600\\X0\\\\X2\\00E4\\X0\\'");
    EXPECT_EQ(with_encoded_strings("'a\x01'"), "'a\\X\\01'");
}

TEST(EncodedStrings, LeaveAsciiAlone) {
    const char* text = "ISO-10303-21;\n#1=X('it''s','a\\\\b','',\"0A\");\n/* \n */\nENDSEC;\n";
    EXPECT_EQ(with_encoded_strings(text), text);
    EXPECT_EQ(with_encoded_strings(""), "");
    EXPECT_EQ(with_encoded_strings("'"), "'");
    EXPECT_EQ(with_encoded_strings("'open"), "'open");
}

TEST(EncodedStrings, PutAFoldedStringOnOneLine) {
    EXPECT_EQ(with_encoded_strings("X(\n'abc\ndef',\n'x');"), "X(\n'abcdef',\n'x');");
    EXPECT_EQ(with_encoded_strings("'a\xC3\n\xA4z'"), "'a\\X2\\00E4\\X0\\z'") << "folded in the middle of a character";
    EXPECT_EQ(with_encoded_strings("'\xF0\x9F\r\n\x98\x80'"), "'\\X4\\0001F600\\X0\\'");
}

TEST(EncodedStrings, TakeBytesThatAreNotUtf8ForLatin1) {
    EXPECT_EQ(with_encoded_strings("'Geh\xE4use'"), "'Geh\\X2\\00E4\\X0\\use'");
    EXPECT_EQ(with_encoded_strings("'\xC3'"), "'\\X2\\00C3\\X0\\'");
}

} // namespace
} // namespace touchmark::deliver
