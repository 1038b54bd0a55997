// SPDX-License-Identifier: MIT
#include "core/content/table.h"

#include <gtest/gtest.h>

namespace touchmark::content {
namespace {

TablePtr table(std::string text) {
    auto read = Table::read("t.csv", std::move(text));
    EXPECT_TRUE(read) << read.error().message;
    return read.value_or(nullptr);
}
std::string trouble(std::string text) {
    const auto read = Table::read("t.csv", std::move(text));
    return read ? "" : read.error().message;
}

TEST(Table, ReadsTheExamplesOfRFC4180) {
    // RFC 4180, section 2, clauses 1 to 7, with the header of clause 3.
    const char* const header = "field_name,second,third\r\n";
    const auto cells = [&](const char* records) {
        const TablePtr read = table(std::string(header) + records);
        std::vector<std::string> all;
        for (std::size_t row = 0; read && row < read->rows(); ++row)
            for (std::size_t column = 0; column < 3; ++column)
                all.push_back(read->cell(row, column));
        return all;
    };
    using Cells = std::vector<std::string>;
    EXPECT_EQ(cells("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n"), (Cells{"aaa", "bbb", "ccc", "zzz", "yyy", "xxx"})) << "1";
    EXPECT_EQ(cells("aaa,bbb,ccc\r\nzzz,yyy,xxx"), (Cells{"aaa", "bbb", "ccc", "zzz", "yyy", "xxx"})) << "2";
    EXPECT_EQ(table(std::string(header) + "aaa,bbb,ccc")->columns(), (Cells{"field_name", "second", "third"})) << "3";
    EXPECT_EQ(cells("aaa, bbb ,ccc"), (Cells{"aaa", " bbb ", "ccc"})) << "4: spaces belong to a field";
    EXPECT_EQ(cells("\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx"), (Cells{"aaa", "bbb", "ccc", "zzz", "yyy", "xxx"}))
        << "5";
    EXPECT_EQ(cells("\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx"), (Cells{"aaa", "b\nbb", "ccc", "zzz", "yyy", "xxx"}))
        << "6";
    EXPECT_EQ(cells("\"aaa\",\"b\"\"bb\",\"ccc\""), (Cells{"aaa", "b\"bb", "ccc"})) << "7";
    EXPECT_EQ(cells("\"a,a\",,\"\""), (Cells{"a,a", "", ""}));
}

TEST(Table, TakesWhatSpreadsheetsWrite) {
    EXPECT_EQ(table("a;b\n1,5;x\n")->cell(0, 0), "1,5") << "semicolons of a country with a decimal comma";
    EXPECT_EQ(table("a\tb\n1\t2\n")->cell(0, 1), "2");
    EXPECT_EQ(table("\n\r\na;b\n1,5;x\n")->cell(0, 1), "x") << "blank lines before the header";
    EXPECT_EQ(table("\"a;1\",b\n1,2\n")->columns().front(), "a;1") << "the comma counts, not what is quoted";
    EXPECT_EQ(table("\xEF\xBB\xBFLot\nA1\n")->column("Lot"), 0U) << "byte order mark";
    EXPECT_EQ(table("Gr\xF6\xDF"
                    "e\n5\n")
                  ->columns()
                  .front(),
              "Größe")
        << "Latin-1";
    EXPECT_EQ(table(std::string("\xFF\xFE"
                                "a\0\n\0"
                                "1\0\n\0",
                                10))
                  ->cell(0, 0),
              "1")
        << "UTF-16";
    EXPECT_EQ(table("a,b\r1,2\r\r3,4\r")->rows(), 2U) << "old line ends, a blank line";
}

TEST(Table, SaysWhereItIsMalformed) {
    EXPECT_EQ(trouble("a,b\n1\n"), "Line 2 of the table has 1 field; its header has 2.");
    EXPECT_EQ(trouble("a,b\n\"x\ny\",2\n1,2,3\n"), "Line 4 of the table has 3 fields; its header has 2.");
    EXPECT_EQ(trouble("a,b\n1,\"2\n3,4\n"), "Line 2 of the table begins a quoted field that never ends.");
    EXPECT_EQ(trouble("a,b\n1,2\"\n"),
              "Line 2 of the table has a quotation mark within a field that does not begin with one.");
    EXPECT_EQ(trouble("a,b\n\"1\"2,3\n"), "Line 2 of the table has text behind a closing quotation mark.");
    EXPECT_EQ(trouble("a,a\n1,2\n"), "Two columns of the table are called \"a\".");
    for (const char* empty : {"", "a,b", "a,b\n\n", "\n"})
        EXPECT_EQ(trouble(empty), "The table has no rows.") << empty;
    EXPECT_NE(trouble(std::string("a\n\0\n", 4)), "");
    EXPECT_NE(trouble("a\n" + std::string(largest_table, 'x')), "");
    std::string long_one = "a\n";
    for (std::size_t i = 0; i <= most_rows; ++i)
        long_one += "1\n";
    EXPECT_NE(trouble(long_one), "");
}

} // namespace
} // namespace touchmark::content
