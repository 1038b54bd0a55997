// SPDX-License-Identifier: MIT
#include "app/window/theme.h"

#include <algorithm>
#include <cmath>
#include <gtest/gtest.h>

namespace touchmark::window {
namespace {

// WCAG 2.1, "relative luminance" and "contrast ratio"; 4.5:1 for text by criterion 1.4.3, 3:1 for controls by 1.4.11.
double luminance(const QColor& colour) {
    const auto linear = [](double channel) {
        return channel <= 0.04045 ? channel / 12.92 : std::pow((channel + 0.055) / 1.055, 2.4);
    };
    return 0.2126 * linear(colour.redF()) + 0.7152 * linear(colour.greenF()) + 0.0722 * linear(colour.blueF());
}
double contrast(const QColor& a, const QColor& b) {
    const double one = luminance(a), other = luminance(b);
    return (std::max(one, other) + 0.05) / (std::min(one, other) + 0.05);
}

TEST(Theme, TheContrastFormulaGivesThePublishedExtremes) {
    EXPECT_NEAR(contrast(Qt::black, Qt::white), 21, 1e-9);
    EXPECT_NEAR(contrast("#777777", "#ffffff"), 4.48, 0.01); // the well-known grey just below the line
}

class ThemeOf : public testing::TestWithParam<bool> {};

TEST_P(ThemeOf, TextIsReadableOnEveryGround) {
    const Colours& c = colours(GetParam());
    for (const QColor& ground : {c.ground, c.sheet, c.inset})
        for (const QColor& ink : {c.text, c.quiet, c.accent})
            EXPECT_GE(contrast(ink, ground), 4.5) << ink.name().toStdString() << " on " << ground.name().toStdString();
    EXPECT_GE(contrast(c.on_accent, c.accent), 4.5);
}

TEST_P(ThemeOf, BordersOfFieldsAndTheAccentAreSeen) {
    const Colours& c = colours(GetParam());
    for (const QColor& ground : {c.ground, c.sheet})
        EXPECT_GE(contrast(c.border, ground), 3) << ground.name().toStdString();
    EXPECT_GE(contrast(c.accent, c.body), 2) << "a selected mark on the silhouette";
}

TEST_P(ThemeOf, EverythingButTheAccentIsNeutral) {
    const Colours& c = colours(GetParam());
    for (const QColor& grey : {c.ground, c.sheet, c.inset, c.text, c.quiet, c.hairline, c.border, c.body}) {
        EXPECT_EQ(grey.red(), grey.green());
        EXPECT_EQ(grey.green(), grey.blue());
    }
}

TEST_P(ThemeOf, ThePaletteAndTheSheetSayTheSame) {
    const Colours& c = colours(GetParam());
    const QPalette palette = palette_of(c);
    EXPECT_EQ(palette.color(QPalette::WindowText), c.text);
    EXPECT_EQ(palette.color(QPalette::Highlight), c.accent);
    const QString sheet = stylesheet_of(c);
    EXPECT_FALSE(sheet.contains(u'@')) << "a colour without a value";
    EXPECT_TRUE(sheet.contains(c.accent.name()));
}

INSTANTIATE_TEST_SUITE_P(, ThemeOf, testing::Bool(),
                         [](const auto& scheme) { return scheme.param ? "Dark" : "Light"; });

} // namespace
} // namespace touchmark::window
