// SPDX-License-Identifier: MIT
#include "core/content/date_format.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <ctime>

namespace touchmark::content {
namespace {

using namespace std::chrono;

/// The C library's own calendar (ISO C, strftime).
std::string by_the_c_library(const Day& day, const char* format) {
    std::tm parts{};
    parts.tm_year = static_cast<int>(day.year()) - 1900;
    parts.tm_mon = static_cast<int>(static_cast<unsigned>(day.month())) - 1;
    parts.tm_mday = static_cast<int>(static_cast<unsigned>(day.day()));
    parts.tm_hour = 12;
    timegm(&parts); // fills in the days of the week and of the year
    char text[64];
    return {text, std::strftime(text, sizeof text, format, &parts)};
}

TEST(DateFormat, IsTheCLibrarysForEveryDayOfHalfACentury) {
    const std::pair<const char*, const char*> patterns[] = {{"YYYY-MM-DD", "%Y-%m-%d"}, {"YYMMDD", "%y%m%d"},
                                                            {"YYDDD", "%y%j"},          {"GGGG-'W'WW", "%G-W%V"},
                                                            {"GGWW", "%g%V"},           {"DD/MM/YY", "%d/%m/%y"}};
    for (sys_days day = 1990y / January / 1; day < sys_days(2040y / January / 1); day += days(1))
        for (const auto& [own, theirs] : patterns)
            ASSERT_EQ(*format_day(day, own), by_the_c_library(day, theirs)) << own;
}

TEST(DateFormat, NamesMonthsInEnglish) {
    for (unsigned month = 1; month <= 12; ++month) {
        const Day day = 2026y / month / 9;
        std::string theirs = by_the_c_library(day, "%e %b");
        std::ranges::transform(theirs, theirs.begin(),
                               [](unsigned char c) { return static_cast<char>(std::toupper(c)); });
        EXPECT_EQ(" " + *format_day(day, "D MMM"), theirs);
        EXPECT_EQ(*format_day(day, "M"), std::to_string(month));
    }
}

TEST(DateFormat, KeepsWordsBetweenApostrophes) {
    const Day day = 2026y / March / 14;
    EXPECT_EQ(*format_day(day, "'MADE' YYYY"), "MADE 2026");
    EXPECT_EQ(*format_day(day, "''YY"), "'26");
    EXPECT_EQ(format_day(day, "'MADE").error().code, "content.date_format");
    EXPECT_EQ(format_day(day, "YYYY-W").error().message, "The date's pattern has \"W\".");
    EXPECT_EQ(format_day(day, "YYYYY").error().code, "content.date_format");
}

TEST(DateFormat, ReadsDaysOfISO8601) {
    EXPECT_EQ(*day_from("2024-02-29"), 2024y / February / 29);
    EXPECT_EQ(text_of(2024y / February / 29), "2024-02-29");
    for (const char* bad :
         {"2023-02-29", "2024-13-01", "2024-1-1", "24-01-01", "", "2024-01-01T", "1899-01-01", "+024-01-01"})
        EXPECT_EQ(day_from(bad).error().code, "content.date") << bad;
}

} // namespace
} // namespace touchmark::content
