// SPDX-License-Identifier: MIT
#include "tests/core/content/lettering.h"

#include "core/content/shaping.h"
#include "core/content/utf8.h"
#include "tests/support/scratch_folder.h"

#include <gmock/gmock.h>

#include <cstdio>
#include <fstream>
#include <numbers>

namespace touchmark::content {
namespace {

using test::drawn;
using test::refusal;

Text words(std::string said) {
    return {.text = std::move(said), .cap_height = Mm(10)};
}

TEST(HeavierText, GrowsByWhatIsAskedForOnEitherSide) {
    Text text = words("l"); // a plain upright bar in this face
    const Box2 before = drawn(text).extent;
    text.heavier = Mm(0.4);
    const Box2 after = drawn(text).extent;
    EXPECT_NEAR(after.width() - before.width(), 0.4, 0.01);
    EXPECT_NEAR(after.height() - before.height(), 0.4, 0.01);
    // Steiner: a convex shape grown by r gains perimeter · r + π r².
    const double area = before.width() * before.height(), around = 2 * (before.width() + before.height());
    EXPECT_NEAR(geometry::area(drawn(text).outline), area + around * 0.2 + std::numbers::pi * 0.04, 0.01);
    text.heavier = Mm(-0.4);
    EXPECT_NEAR(before.width() - drawn(text).extent.width(), 0.4, 0.01);
    text.heavier = Mm(-4);
    EXPECT_EQ(refusal(text), "content.thinned");
}

/// Of the circle through the middles of the first, the fourth and the last letter: abc / 4 · area.
double radius_through(const Drawn& it) {
    const Vec2 a = it.pieces.front().extent.centre(), b = it.pieces[3].extent.centre(),
               c = it.pieces.back().extent.centre();
    return distance(a, b) * distance(b, c) * distance(c, a) / (2 * std::abs(cross(b - a, c - a)));
}

TEST(TextOnAnArc, StandsOnItsCircle) {
    Text text = words("HHHHHHHH");
    text.letter_spacing = Mm(4); // inside, tops come closer to each other
    text.arc_radius = Mm(40);
    const Drawn outside = drawn(text);
    EXPECT_TRUE(test::is_consistent(outside));
    ASSERT_EQ(outside.pieces.size(), 8u);
    // An H is symmetrical about its middle, which lies half a cap height outside the baseline's circle.
    EXPECT_NEAR(radius_through(outside), 45, 0.01);
    EXPECT_LT(outside.pieces.front().extent.centre().y, outside.pieces[3].extent.centre().y); // ends hang down
    text.arc_radius = Mm(-40);
    const Drawn inside = drawn(text);
    EXPECT_NEAR(radius_through(inside), 35, 0.01);
    EXPECT_GT(inside.pieces.front().extent.centre().y, inside.pieces[3].extent.centre().y); // ends rise
    // Both keep every letter whole.
    EXPECT_NEAR(geometry::area(inside.outline), geometry::area(outside.outline), 1e-6);
    Text straight = words("HHHHHHHH");
    EXPECT_NEAR(geometry::area(outside.outline), geometry::area(drawn(straight).outline), 1e-6);
    text.arc_radius = Mm(5);
    EXPECT_EQ(refusal(text), "content.arc");
}

TEST(FontFeatures, AreSwitched) {
    Text text = words("10");
    text.family = "Inter";
    const double plain = geometry::area(drawn(text).outline);
    text.features = "zero";
    EXPECT_GT(std::abs(geometry::area(drawn(text).outline) - plain), 0.1); // a slash in the counter
    text.features = "no such";
    EXPECT_EQ(refusal(text), "content.feature");
}

/// One line by HarfBuzz's own program: glyph index and advance of each glyph, from left to right.
std::string by_hb_shape(const std::filesystem::path& font, const std::string& text) {
    const test::ScratchFolder scratch;
    std::ofstream(scratch / "text") << text;
    const std::string command = "hb-shape --no-glyph-names --no-clusters --text-file='" + (scratch / "text").string() +
                                "' '" + font.string() + "'";
    std::string out;
    if (FILE* pipe = ::popen(command.c_str(), "r")) {
        char buffer[4096];
        while (std::fgets(buffer, sizeof buffer, pipe))
            out += buffer;
        ::pclose(pipe);
    }
    return out;
}

/// The glyphs of hb-shape's answer, "[12=3+617|…]".
std::vector<std::uint32_t> glyphs_in(const std::string& answer) {
    std::vector<std::uint32_t> glyphs;
    for (std::size_t at = 0; at < answer.size(); ++at)
        if (answer[at] == '[' || answer[at] == '|')
            glyphs.push_back(static_cast<std::uint32_t>(std::strtoul(answer.c_str() + at + 1, nullptr, 10)));
    return glyphs;
}

TEST(Scripts, AreShapedAsHarfBuzzsOwnProgramShapesThem) {
    const std::pair<const char*, const char*> samples[] = {{"DejaVu Sans", "Werkstoff fi ffi Ångström"},
                                                           {"DejaVu Sans", "Σχέδιο έλεγχος"},
                                                           {"DejaVu Sans", "Деталь Проверка"},
                                                           {"Noto Sans Arabic", "قطعة الغيار"},
                                                           {"Noto Sans Hebrew", "שָׁלוֹם מספר"},
                                                           {"Noto Sans Devanagari", "क्षेत्र निर्माण हिन्दी"},
                                                           {"Noto Sans Thai", "ชิ้นส่วนที่ผลิต"},
                                                           {"WenQuanYi Micro Hei", "部品番号 カタカナ 零件"}};
    for (const auto& [family, sample] : samples) {
        const auto face = test::fonts().find(family, 400);
        ASSERT_TRUE(face) << family;
        const auto font = loaded(test::fonts(), *face);
        ASSERT_TRUE(font) << family;
        std::vector<std::uint32_t> own;
        for (const Cluster& cluster : shape_line(*decode_utf8(sample), **font, 0).clusters)
            for (const PlacedGlyph& glyph : cluster.glyphs)
                own.push_back(glyph.glyph);
        EXPECT_EQ(own, glyphs_in(by_hb_shape(face->file, sample))) << family;
        EXPECT_GE(own.size(), 5u);
    }
}

} // namespace
} // namespace touchmark::content
