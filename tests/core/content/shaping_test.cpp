// SPDX-License-Identifier: MIT
#include "core/content/shaping.h"

#include "core/content/utf8.h"
#include "tests/core/content/lettering.h"

#include <hb-ot.h>

namespace touchmark::content {
namespace {

using test::fonts;

const LoadedFace& face(std::string_view family) {
    return *loaded(fonts(), fonts().find(family, 700).value()).value();
}

ShapedLine shaped(const std::string& text, std::string_view family = default_family, double spacing = 0) {
    return shape_line(decode_utf8(text).value(), face(family), spacing);
}

struct Glyphs {
    std::vector<std::uint32_t> ids;
    std::vector<double> x;
    double advance = 0;
};

Glyphs flat(const ShapedLine& line) {
    Glyphs out;
    for (const Cluster& cluster : line.clusters)
        for (const PlacedGlyph& glyph : cluster.glyphs) {
            out.ids.push_back(glyph.glyph);
            out.x.push_back(glyph.x);
        }
    out.advance = line.advance;
    return out;
}

/// HarfBuzz alone, with its own guess of script and direction, as its tool hb-shape does.
Glyphs by_harfbuzz(const std::string& text, std::string_view family) {
    hb_buffer_t* buffer = hb_buffer_create();
    hb_buffer_add_utf8(buffer, text.data(), static_cast<int>(text.size()), 0, -1);
    hb_buffer_guess_segment_properties(buffer);
    hb_shape(face(family).shaping_font(), buffer, nullptr, 0);
    unsigned count = 0;
    const hb_glyph_info_t* infos = hb_buffer_get_glyph_infos(buffer, &count);
    const hb_glyph_position_t* positions = hb_buffer_get_glyph_positions(buffer, &count);
    Glyphs out;
    for (unsigned i = 0; i < count; ++i) {
        out.ids.push_back(infos[i].codepoint);
        out.x.push_back(out.advance + positions[i].x_offset);
        out.advance += positions[i].x_advance;
    }
    hb_buffer_destroy(buffer);
    return out;
}

std::vector<std::string> characters(const ShapedLine& line) {
    std::vector<std::string> out;
    for (const Cluster& cluster : line.clusters)
        out.push_back(encode_utf8(cluster.characters));
    return out;
}

using Strings = std::vector<std::string>;

TEST(Shaping, ALineOfOneScriptIsShapedAsHarfBuzzShapesIt) {
    const std::pair<const char*, const char*> lines[] = {
        {"DejaVu Sans", "office AVATAR (7.5 mm)"},
        {"Noto Sans Arabic", "السلام"},
        {"Noto Naskh Arabic", "مُحَمَّد"},
        {"Noto Sans Hebrew", "שָׁלוֹם"},
        {"Noto Sans Devanagari", "क्षत्रिय हिन्दी"},
        {"Noto Sans Thai", "น้ำกี่ ผลิต"},
        {"DejaVu Sans", "Ångström e\u0301 \u1EA5"},
    };
    for (const auto& [family, text] : lines) {
        SCOPED_TRACE(text);
        const Glyphs ours = flat(shaped(text, family)), theirs = by_harfbuzz(text, family);
        EXPECT_EQ(ours.ids, theirs.ids);
        EXPECT_EQ(ours.x, theirs.x);
        EXPECT_EQ(ours.advance, theirs.advance);
    }
}

TEST(Shaping, ALigatureIsOneClusterOfAllItsLetters) {
    EXPECT_EQ(characters(shaped("office")), (Strings{"o", "ffi", "c", "e"}));
}

TEST(Shaping, PairsAreKerned) {
    EXPECT_LT(shaped("AV").advance, shaped("A").advance + shaped("V").advance);
    EXPECT_EQ(shaped("HH").advance, 2 * shaped("H").advance);
}

TEST(Shaping, ArabicIsJoinedAndRunsFromRightToLeft) {
    // Seen, lam-alef, meem: initial, ligature, isolated (the Unicode Standard 15.0, 9.2); leftmost is the last.
    const ShapedLine line = shaped("سلام", "DejaVu Sans");
    EXPECT_EQ(characters(line), (Strings{"م", "لا", "س"}));
    const auto glyph = [](char32_t c) {
        hb_codepoint_t id = 0;
        hb_font_get_nominal_glyph(face("DejaVu Sans").shaping_font(), c, &id);
        return id;
    };
    EXPECT_EQ(flat(line).ids, (std::vector<std::uint32_t>{glyph(U'\u0645'), glyph(U'\uFEFC'), glyph(U'\uFEB3')}));
}

TEST(Shaping, HebrewRunsFromRightToLeft) {
    EXPECT_EQ(characters(shaped("שלום", "Noto Sans Hebrew")), (Strings{"ם", "ו", "ל", "ש"}));
}

TEST(Shaping, MixedDirectionsFollowTheBidirectionalAlgorithm) {
    // Unicode Standard Annex 9: Latin first, so left to right; the Hebrew word reversed as a whole, digits within it
    // not.
    EXPECT_EQ(characters(shaped("No אב 12 גד.")),
              (Strings{"N", "o", " ", "ד", "ג", " ", "1", "2", " ", "ב", "א", "."}));
    // Hebrew first: the paragraph runs to the left, the Latin word in it does not; brackets are mirrored.
    const ShapedLine line = shaped("אב (Ab)");
    EXPECT_EQ(characters(line), (Strings{")", "A", "b", "(", " ", "ב", "א"}));
    hb_codepoint_t opening = 0;
    hb_font_get_nominal_glyph(face(default_family).shaping_font(), '(', &opening);
    EXPECT_EQ(line.clusters.front().glyphs.front().glyph, opening); // drawn as "(" on the left
}

TEST(Shaping, DevanagariIsReorderedWithinItsSyllable) {
    // क्षि: the vowel sign that is typed last stands first (the Unicode Standard 15.0, 12.1); one syllable, one cluster.
    const ShapedLine line = shaped("क्षि", "Noto Sans Devanagari");
    ASSERT_EQ(characters(line), (Strings{"क्षि"}));
    EXPECT_EQ(line.clusters[0].glyphs.size(), 2u);
}

TEST(Shaping, ThaiMarksStayWithTheirConsonant) {
    EXPECT_EQ(characters(shaped("น้ำกี่", "Noto Sans Thai")), (Strings{"น้ำ", "กี่"}));
}

TEST(Shaping, LetterSpacingGoesBetweenClusters) {
    const ShapedLine plain = shaped("HIJK"), spaced = shaped("HIJK", default_family, 100);
    EXPECT_DOUBLE_EQ(spaced.advance, plain.advance + 300);
    for (std::size_t i = 0; i < 4; ++i)
        EXPECT_DOUBLE_EQ(spaced.clusters[i].glyphs[0].x,
                         plain.clusters[i].glyphs[0].x + 100.0 * static_cast<double>(i));
}

TEST(Shaping, LetterSpacingDoesNotTearJoinedLettersApart) {
    EXPECT_DOUBLE_EQ(shaped("سلام", "DejaVu Sans", 100).advance, shaped("سلام", "DejaVu Sans").advance);
}

TEST(Shaping, CharactersThatTheFaceLacksAreReportedAndTakeNoRoom) {
    // DejaVu Sans has no Han and no Thai.
    const ShapedLine line = shaped("A中Bไ");
    EXPECT_EQ(encode_utf8(line.missing), "中ไ");
    EXPECT_EQ(characters(line), (Strings{"A", "B"}));
    EXPECT_EQ(line.advance, shaped("A").advance + shaped("B").advance);
}

TEST(Shaping, ALetterWhoseMarkIsMissingIsDrawnWithoutIt) {
    // Liberation Sans has no combining musical symbol U+1D165.
    const ShapedLine line = shaped("n\U0001D165m", "Liberation Sans");
    EXPECT_EQ(encode_utf8(line.missing), "\U0001D165");
    EXPECT_EQ(line.advance, shaped("n", "Liberation Sans").advance + shaped("m", "Liberation Sans").advance);
    EXPECT_EQ(flat(line).ids.size(), 2u);
}

TEST(Shaping, WhatHasNoShapeIsNeverMissing) {
    // Joiners, direction marks, variation selectors, soft hyphen, zero-width space, byte order mark, fixed spaces.
    for (const char* text : {"a\u200Db", "a\u200Cb", "a\u200E\u200Fb", "a\uFE0Fb", "a\u00ADb", "a\u200Bb", "\uFEFFab",
                             "a\u00A0b", "a\u2003b", "a\u2009b"})
        for (const char* family : {"DejaVu Sans", "Liberation Sans", "Noto Sans"})
            EXPECT_EQ(shaped(text, family).missing, U"") << family << testing::PrintToString(std::string(text));
    EXPECT_EQ(encode_utf8(shaped("中\uFE0Fa").missing), "中");
}

TEST(Shaping, AnEmptyLineIsEmpty) {
    const ShapedLine line = shaped("", default_family, 50);
    EXPECT_TRUE(line.clusters.empty());
    EXPECT_EQ(line.advance, 0);
}

} // namespace
} // namespace touchmark::content
