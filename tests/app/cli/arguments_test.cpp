// SPDX-License-Identifier: MIT
#include "app/cli/arguments.h"

#include <clocale>
#include <gtest/gtest.h>

namespace touchmark::test {
namespace {

using namespace cli;

const std::vector<Option> options{{"--at", "U,V", "", false}, {"--bold", "", "", false}, {"-o", "OUT", "", true}};
const std::vector<std::string> operands{"PART"};

Result<Arguments> parsed(std::vector<std::string> words) {
    return parse_arguments(words, options, operands);
}

TEST(Arguments, TakesOptionsAndOperandsInAnyOrder) {
    const auto arguments = parsed({"--bold", "part.step", "-o", "out.step", "--at=-1,2"});
    ASSERT_TRUE(arguments.has_value());
    EXPECT_TRUE(arguments->has("--bold"));
    EXPECT_EQ(arguments->value("--at"), "-1,2");
    EXPECT_EQ(arguments->operand(0), "part.step");
}

TEST(Arguments, AValueMayLookLikeAnOption) {
    EXPECT_EQ(parsed({"p", "-o", "x", "--at", "-5,3"})->value("--at"), "-5,3");
    EXPECT_EQ(parsed({"-o", "x", "--", "--odd-name.step"})->operand(0), "--odd-name.step");
}

TEST(Arguments, RefusesWhatIsUnknownMissingDoubledOrTooMuch) {
    for (const std::vector<std::string>& words : std::vector<std::vector<std::string>>{{"p", "-o", "x", "--none"},
                                                                                       {"p"},
                                                                                       {"-o", "x"},
                                                                                       {"p", "q", "-o", "x"},
                                                                                       {"p", "-o"},
                                                                                       {"p", "-o", "x", "-o", "y"},
                                                                                       {"p", "-o", "x", "--bold=1"}}) {
        const auto arguments = parsed(words);
        ASSERT_FALSE(arguments.has_value());
        EXPECT_EQ(arguments.error().code, "cli.usage");
    }
}

TEST(Arguments, ReadsLengthsInMillimetresAndInches) { // 1 inch is 25.4 mm by definition
    EXPECT_DOUBLE_EQ(parse_length("--height", "5.5").value(), 5.5);
    EXPECT_DOUBLE_EQ(parse_length("--height", " 5.5 mm").value(), 5.5);
    EXPECT_DOUBLE_EQ(parse_length("--height", "1/8 in").value(), 3.175);
    EXPECT_DOUBLE_EQ(parse_length("--height", "1 1/2 inch").value(), 38.1);
    EXPECT_DOUBLE_EQ(parse_length("--height", "0.25\"").value(), 6.35);
    EXPECT_DOUBLE_EQ(parse_length("--height", "-.5").value(), -0.5);
    for (const char* bad : {"", "mm", "5,5", "1/0 in", "nan", "inf", "5 furlongs", "0x10", "1e999", "5 5"})
        EXPECT_FALSE(parse_length("--height", bad)) << bad;
}

TEST(Arguments, ReadsNumbersWithAPointInEveryLocale) {
    const bool german =
        std::setlocale(LC_ALL, "de_DE.UTF-8") != nullptr; // where it is installed, the comma must not come in
    EXPECT_DOUBLE_EQ(parse_length("--height", "5.5").value(), 5.5) << german;
    EXPECT_FALSE(parse_length("--height", "5,5"));
    std::setlocale(LC_ALL, "C");
}

TEST(Arguments, ReadsPointsDirectionsAnglesAndIndices) {
    EXPECT_EQ(parse_point("--at", "1/2 in,-3").value(), (Vec2{12.7, -3}));
    EXPECT_FALSE(parse_point("--at", "1"));
    EXPECT_FALSE(parse_point("--at", "1,2,3"));
    const Vec3 direction = parse_direction("--down", "0,3,-4").value();
    EXPECT_NEAR(distance(direction, {0, 0.6, -0.8}), 0, 1e-15);
    EXPECT_FALSE(parse_direction("--down", "0,0,0"));
    EXPECT_FALSE(parse_direction("--down", "0,0"));
    EXPECT_FALSE(parse_direction("--down", "a,b,c"));
    EXPECT_DOUBLE_EQ(parse_angle("--turn", "-12.5°").value(), -12.5);
    EXPECT_EQ(parse_index("--face", "12").value(), 12);
    for (const char* bad : {"-1", "1.5", "x", "", "99999999999"})
        EXPECT_FALSE(parse_index("--face", bad)) << bad;
}

TEST(Arguments, ABackslashAndAnNAreANewLine) {
    EXPECT_EQ(unescaped(R"(a\nb)"), "a\nb");
    EXPECT_EQ(unescaped(R"(a\\nb\)"), R"(a\nb\)");
}

} // namespace
} // namespace touchmark::test
