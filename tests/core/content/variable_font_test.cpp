// SPDX-License-Identifier: MIT
#include "core/content/shaping.h"
#include "core/content/utf8.h"
#include "tests/core/content/lettering.h"
#include "tests/support/glyph_area.h"

#include <gmock/gmock.h>

#include <clocale>
#include <cmath>
#include <cstdio>
#include <numbers>

namespace touchmark::content {
namespace {

using test::drawn;
using test::fonts;
using testing::HasSubstr;

// Inter by its makers: weights from 100 to 900, upright to 10° slanted; Debian's fonts-inter-variable beside the fixed
// faces of fonts-inter.
TEST(VariableFont, OffersItsAxesAndAFixedFamilyNone) {
    const std::vector<Axis> axes = fonts().axes("Inter");
    ASSERT_EQ(axes.size(), 2u);
    EXPECT_EQ(axes[0], (Axis{"wght", "Weight", 100, 400, 900}));
    EXPECT_EQ(axes[1].tag, "slnt");
    EXPECT_EQ(axes[1].least, -10);
    EXPECT_EQ(axes[1].most, 0);
    EXPECT_TRUE(fonts().axes("DejaVu Sans").empty());
    EXPECT_TRUE(fonts().axes("No such family").empty());
}

TEST(VariableFont, SettingsAreWrittenWithAPointInEveryLocale) {
    const std::vector<AxisSetting> settings{{"wght", 650}, {"slnt", -5.5}, {"opsz", 14.25}};
    const bool german = std::setlocale(LC_ALL, "de_DE.UTF-8") != nullptr; // where it is installed
    const std::string written = text_of(settings);
    std::setlocale(LC_ALL, "C");
    EXPECT_EQ(written, "wght=650, slnt=-5.5, opsz=14.25") << german;
    EXPECT_EQ(axis_settings(written).value(), settings);
}

TEST(VariableFont, MeetsAWeightInBetweenAndLeavesOthersToFixedFaces) {
    const auto between = fonts().find("Inter", 650);
    ASSERT_TRUE(between);
    EXPECT_EQ(between->weight, 650);
    EXPECT_THAT(between->file.native(), HasSubstr(".var."));
    EXPECT_EQ(between->settings, (std::vector<AxisSetting>{{"wght", 650}}));
    EXPECT_THAT(fonts().find("Inter", 700)->file.native(), testing::Not(HasSubstr(".var.")));
    EXPECT_EQ(fonts().find("Inter", 950)->weight, 900) << "no further than it goes";
}

TEST(VariableFont, OutlinesHaveTheAreaThatHarfBuzzGivesThem) {
    // HarfBuzz interpolates for itself and in fractions of a font unit.
    // Without the letters whose contours overlap in this font, which it would count twice.
    const char* letters = "BCDEFHIJKLMNOSTUVWXYZ012356789";
    for (const auto& [weight, axes] : {std::pair(137, ""), std::pair(650, ""), std::pair(777, "slnt=-7.5"),
                                       std::pair(400, "slnt=-10"), std::pair(900, "slnt=0")}) {
        Text text{.text = letters, .family = "Inter", .weight = weight, .letter_spacing = Mm(2), .axes = axes};
        const Drawn result = drawn(text);
        EXPECT_EQ(result.pieces.size(), 30u);
        const auto face = fonts().find("Inter", weight, axis_settings(axes).value());
        ASSERT_TRUE(face);
        const std::string variations =
            "wght=" + std::to_string(weight) + (*axes ? "," + std::string(axes) : std::string());
        const double expected = test::lettering_area(face->file, letters, 5, variations);
        EXPECT_NEAR(area(result.outline) / expected, 1, 1e-4) << variations; // 0.1 % is asked for
        if (weight != 400) {
            const double standard = test::lettering_area(face->file, letters, 5);
            EXPECT_GT(std::abs(expected / standard - 1), 0.05) << "the weight does something";
        }
    }
}

TEST(VariableFont, ASlantLeansByItsAngle) {
    // An l is an upright bar: slanted by 10° its width grows by height · tan 10°.
    Text text{.text = "l", .family = "Inter", .weight = 650, .cap_height = Mm(10)};
    const Box2 upright = drawn(text).extent;
    text.axes = "slnt=-10";
    const Box2 slanted = drawn(text).extent;
    EXPECT_NEAR(slanted.height(), upright.height(), 0.01);
    EXPECT_NEAR(slanted.width() - upright.width(), upright.height() * std::tan(10 * std::numbers::pi / 180), 0.15);
}

TEST(VariableFont, IsShapedWithTheAxesThatItIsDrawnWith) {
    // The advances by HarfBuzz's own program.
    const char* sample = "AVATAR Type 0815";
    const auto face = fonts().find("Inter", 850, axis_settings("slnt=-4").value());
    ASSERT_TRUE(face);
    const auto font = loaded(fonts(), *face);
    ASSERT_TRUE(font);
    const std::string command = "hb-shape --no-glyph-names --no-clusters --variations=wght=850,slnt=-4 '" +
                                face->file.string() + "' '" + sample + "'";
    std::string answer;
    if (FILE* pipe = ::popen(command.c_str(), "r")) {
        char buffer[4096];
        while (std::fgets(buffer, sizeof buffer, pipe))
            answer += buffer;
        ::pclose(pipe);
    }
    double advance = 0;
    int glyphs = 0;
    for (std::size_t plus = answer.find('+'); plus != answer.npos; plus = answer.find('+', plus + 1), ++glyphs)
        advance += std::strtod(answer.c_str() + plus + 1, nullptr);
    EXPECT_EQ(glyphs, 16);
    EXPECT_EQ(shape_line(*decode_utf8(sample), **font, 0).advance, advance);
}

TEST(VariableFont, WhatItCannotBeSetToIsRefused) {
    const auto refusal = [](const char* family, const char* axes) {
        const auto result = draw(Text{.text = "A", .family = family, .axes = axes}, fonts());
        EXPECT_FALSE(result) << axes;
        return result ? Error{} : result.error();
    };
    EXPECT_EQ(refusal("Inter", "wdth=85").code, "font.axis");
    EXPECT_THAT(refusal("Inter", "wdth=85").hint, HasSubstr("wght, slnt"));
    EXPECT_THAT(refusal("Inter", "slnt=-40").message, HasSubstr("from -10 to 0, not to -40"));
    EXPECT_THAT(refusal("DejaVu Sans", "wght=650").hint, HasSubstr("fixed"));
    for (const char* nonsense : {"narrow", "wdth", "wdth=", "wdth=wide", "wdth=nan", "wd=3", "=", "wdth=inf"})
        EXPECT_EQ(axis_settings(nonsense).error().code, "font.axis") << nonsense;
    EXPECT_EQ(text_of(axis_settings(" slnt = -4 ,wdth=85,, slnt=-5.5").value()), "slnt=-5.5, wdth=85");
}

} // namespace
} // namespace touchmark::content
