// SPDX-License-Identifier: MIT
#include "core/base/number_text.h"

#include <gtest/gtest.h>

#include <clocale>
#include <limits>

namespace touchmark {
namespace {

TEST(NumberText, HasAsManyDigitsAsMatter) {
    EXPECT_EQ(number_text(0.3812), "0.38");
    EXPECT_EQ(number_text(12.345), "12.3");
    EXPECT_EQ(number_text(120.4), "120");
    EXPECT_EQ(number_text(0), "0.00");
    EXPECT_EQ(number_text(-0.0), "0.00");
    EXPECT_EQ(number_text(-0.004), "0.00");
    EXPECT_EQ(number_text(-1.5), "-1.50");
}

TEST(NumberText, RoundsBeforeItCountsDigits) {
    EXPECT_EQ(number_text(9.994), "9.99");
    EXPECT_EQ(number_text(9.996), "10.0");
    EXPECT_EQ(number_text(99.94), "99.9");
    EXPECT_EQ(number_text(99.96), "100");
}

TEST(NumberText, HasNoExponentHoweverLarge) {
    EXPECT_EQ(number_text(1e9), "1000000000");
    EXPECT_EQ(number_text(std::numeric_limits<double>::max()).size(), 309u);
}

TEST(NumberText, NamesTheUnit) {
    EXPECT_EQ(text_of(Mm(0.5)), "0.50 mm");
    EXPECT_EQ(text_of(Degrees(-90)), "-90.0°");
}

} // namespace
} // namespace touchmark
