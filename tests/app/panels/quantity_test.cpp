// SPDX-License-Identifier: MIT
#include "app/panels/quantity.h"

#include <gtest/gtest.h>
#include <numbers>

namespace touchmark::panels {
namespace {

struct Typed {
    const char* text;
    double value;
};

// Lengths: the international inch is 25.4 mm exactly (1959 agreement), a thou 0.0254 mm.
TEST(Quantity, UnderstandsArithmeticAndInches) {
    for (const Typed& typed : std::initializer_list<Typed>{
             {"4.2", 4.2},     {" 4,2 mm ", 4.2},  {"2*3.2", 6.4},      {"2×3.2", 6.4},    {"1/8 in", 3.175},
             {"1/8\"", 3.175}, {"1 1/2 in", 38.1}, {"1/2in + 1", 13.7}, {"(1+2)*3", 9},    {"10-2-3", 5},
             {"12/2/3", 2},    {"-2.5", -2.5},     {"2--1", 3},         {"-(1+1) mm", -2}, {"30 thou", 0.762},
             {"400 µm", 0.4},  {"1.5 cm", 15},     {".5", 0.5},         {"3.", 3},         {"2 in * 2", 101.6},
             {"7 − 2", 5},     {"1 inch", 25.4},   {"2 INCHES", 50.8},  {"2 mil", 0.0508}, {"1 1/2", 1.5},
         }) {
        const auto value = parse_quantity(QString::fromUtf8(typed.text), Measure::length);
        ASSERT_TRUE(value) << typed.text;
        EXPECT_NEAR(*value, typed.value, 1e-12) << typed.text;
    }
}

TEST(Quantity, AnglesAreInDegrees) {
    EXPECT_DOUBLE_EQ(*parse_quantity("90/4", Measure::angle), 22.5);
    EXPECT_DOUBLE_EQ(*parse_quantity("45°", Measure::angle), 45);
    EXPECT_NEAR(*parse_quantity("1 rad", Measure::angle), 180 / std::numbers::pi, 1e-12);
    EXPECT_FALSE(parse_quantity("3 mm", Measure::angle)) << "a length is no angle";
    EXPECT_FALSE(parse_quantity("3°", Measure::length));
}

TEST(Quantity, RefusesWhatIsNotANumberWithAHint) {
    for (const char* text : {"", " ", "abc", "1+", "*2", "(1", "1)", "1..2", "4 4", "1/0", "0/0", "1 in in", "1 mm 2",
                             "1e400", "mm", "--", "1 1/0 in"}) {
        const auto value = parse_quantity(QString::fromUtf8(text), Measure::length);
        ASSERT_FALSE(value) << text;
        EXPECT_FALSE(value.error().hint.empty());
    }
}

TEST(Quantity, DeepParenthesesAreRefusedNotFollowed) {
    EXPECT_FALSE(parse_quantity(QString(100'000, u'('), Measure::length));
    EXPECT_FALSE(parse_quantity(QString(100'000, u'-'), Measure::length));
}

TEST(Quantity, ForEditingShowsAllDigitsThatMatter) {
    EXPECT_EQ(editable_number(3.175), "3.175");
    EXPECT_EQ(editable_number(5), "5");
    EXPECT_EQ(editable_number(-0.00001), "0");
    EXPECT_EQ(editable_number(0.12345), "0.1235");
}

} // namespace
} // namespace touchmark::panels
