// SPDX-License-Identifier: MIT
#include "core/fitting/sheet.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

namespace touchmark::fitting {
namespace {

using testing::AllOf;
using testing::ElementsAre;
using testing::HasSubstr;

const process::Process& process() {
    static const auto loaded =
        process::load_process(std::filesystem::path(TOUCHMARK_RESOURCES) / "processes/fff-0.4.json").value();
    return loaded;
}
const std::vector<Item>& items() {
    static const std::vector<Item> all = items_of(process());
    return all;
}
Result<Sheet> read(std::string text) {
    return read_sheet(std::move(text), items());
}
/// The empty sheet with a row's cells after planned_mm in place of its empty ones.
std::string with_row(const std::string& item, const std::string& cells) {
    std::string sheet = empty_sheet(process(), items());
    const auto row = sheet.find("\n" + item + ",") + 1, end = sheet.find('\n', row);
    std::string line = sheet.substr(row, end - row);
    line.erase(line.size() - 7); // ,,,,,,, behind the planned size
    return sheet.replace(row, end - row, line + "," + cells);
}
std::size_t line_of(const std::string& sheet, const std::string& item) {
    const auto row = sheet.find("\n" + item + ",");
    return static_cast<std::size_t>(std::ranges::count(sheet.substr(0, row), '\n')) + 2;
}

TEST(Sheet, EmptyItHasARowAnItemAndSaysNothing) {
    const std::string sheet = empty_sheet(process(), items());
    for (const Item& item : items())
        EXPECT_THAT(sheet, HasSubstr("\n" + item.name + ","));
    const auto back = read(sheet);
    ASSERT_TRUE(back) << back.error().message;
    EXPECT_TRUE(back->seen.empty());
}

TEST(Sheet, ARowSaysWhatCameOutAndHowWide) {
    const std::string sheet = with_row("A5", "6,4,0.41 0.43  0.40,,,,fine");
    const auto back = read(sheet);
    ASSERT_TRUE(back) << back.error().message;
    ASSERT_EQ(back->seen.size(), 1U);
    const Seen& seen = back->seen[0];
    EXPECT_EQ(items()[seen.item].name, "A5");
    EXPECT_EQ(seen.line, line_of(sheet, "A5"));
    EXPECT_EQ(seen.printed, 6);
    EXPECT_EQ(seen.came_out, 4);
    EXPECT_THAT(seen.measured_mm, ElementsAre(0.41, 0.43, 0.40));
}

TEST(Sheet, YesAndNoStandForAllAndNone) {
    EXPECT_EQ(read(with_row("A5", ",yes,,,,,"))->seen[0].came_out, 1);
    EXPECT_EQ(read(with_row("A5", "3,yes,,,,,"))->seen[0].came_out, 3);
    const Seen no = read(with_row("A5", ",no,,,,,"))->seen[0];
    EXPECT_EQ(no.printed, 1);
    EXPECT_EQ(no.came_out, 0);
    EXPECT_TRUE(read(with_row("A5", "3,,,,,,"))->seen.empty()); // printed, but not looked at
}

TEST(Sheet, LightComesAsAShareOrAsLux) {
    EXPECT_DOUBLE_EQ(*read(with_row("W2", ",,,42.5,,,"))->seen[0].light, 0.425);
    EXPECT_DOUBLE_EQ(*read(with_row("W2", ",,,,170,400,"))->seen[0].light, 0.425);
}

TEST(Sheet, ASpreadsheetsWaysAreUnderstood) {
    // Semicolons, a decimal comma, the explanation quoted and padded, line ends of Windows, a mark of UTF-8.
    const auto back =
        read("\xef\xbb\xbf\"# explains; it\";;;\r\nitem;printed;came_out;measured_mm\r\n;;;\r\nA5;2;1;0,41\r\n");
    ASSERT_TRUE(back) << back.error().message;
    EXPECT_EQ(back->seen[0].line, 4U);
    EXPECT_THAT(back->seen[0].measured_mm, ElementsAre(0.41));
    EXPECT_DOUBLE_EQ(read("item\tlight_percent\nW1\t50\nW1\t52\n")->seen[1].light.value(), 0.52);
}

TEST(Sheet, WhatIsWrongIsNamedWithItsLine) {
    const auto wrong = [](const std::string& item, const std::string& cells, const std::string& what) {
        const std::string sheet = with_row(item, cells);
        const auto back = read(sheet);
        ASSERT_FALSE(back) << item << ' ' << cells;
        EXPECT_EQ(back.error().code, "fitting.sheet");
        EXPECT_THAT(back.error().message,
                    AllOf(HasSubstr("Line " + std::to_string(line_of(sheet, item))), HasSubstr(item), HasSubstr(what)));
    };
    wrong("A5", "3,4,,,,,", "more than printed");
    wrong("A5", ",2,,,,,", "printed is empty");
    wrong("A5", "2.5,1,,,,,", "whole number");
    wrong("A5", "0,0,,,,,", "whole number");
    wrong("A5", "3,maybe,,,,,", "maybe");
    wrong("A5", "3,1.5,,,,,", "whole number");
    wrong("A5", ",,52,,,,", "measured_mm is 52 mm");
    wrong("A5", ",,0.4x,,,,", "0.4x");
    wrong("A5", ",,-1,,,,", "-1");
    wrong("A5", ",,,50,,,", "only a step");
    wrong("D2", ",,0.4,,,,", "measured_mm is for");
    wrong("W2", "1,yes,,,,,", "no came_out");
    wrong("W2", ",,,0,,,", "no light");
    wrong("W2", ",,,120,,,", "more light");
    wrong("W2", ",,,,50,,", "together");
    wrong("W2", ",,,50,50,100,", "both");
}

TEST(Sheet, OfAnotherStripIsRefused) {
    std::string sheet = with_row("A5", "1,1,,,,,");
    const auto size = sheet.find("0.55,1,1");
    ASSERT_NE(size, std::string::npos);
    EXPECT_EQ(read(sheet.replace(size, 4, "0.82")).error().code, "fitting.other_strip");
    EXPECT_EQ(read("item,came_out\nQ1,yes\n").error().code, "fitting.other_strip");
    EXPECT_THAT(read("item,cameout\nA1,yes\n").error().message, HasSubstr("cameout"));
    EXPECT_THAT(read("came_out\nyes\n").error().message, HasSubstr("item"));
}

} // namespace
} // namespace touchmark::fitting
