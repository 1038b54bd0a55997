// SPDX-License-Identifier: MIT
#include "core/content/date_format.h"

#include <array>
#include <charconv>
#include <ctime>
#include <optional>

namespace touchmark::content {
namespace {

using namespace std::chrono;

std::string padded(int value, std::size_t width) {
    const std::string figures = std::to_string(value);
    return figures.size() < width ? std::string(width - figures.size(), '0') + figures : figures;
}

int day_of_year(const Day& day) {
    return static_cast<int>((sys_days(day) - sys_days(day.year() / January / 1)).count()) + 1;
}

/// ISO 8601: a week belongs to the year that has its Thursday.
struct Week {
    int year = 0, number = 0;
};
Week week_of(const Day& day) {
    const sys_days at = day;
    const Day thursday = at - (weekday(at) - Monday) + days(3);
    return {static_cast<int>(thursday.year()), (day_of_year(thursday) - 1) / 7 + 1};
}

std::string written(const Day& day, std::string_view token) {
    static constexpr std::array<const char*, 12> months{"JAN", "FEB", "MAR", "APR", "MAY", "JUN",
                                                        "JUL", "AUG", "SEP", "OCT", "NOV", "DEC"};
    const int year = static_cast<int>(day.year()), month = static_cast<int>(static_cast<unsigned>(day.month())),
              in_month = static_cast<int>(static_cast<unsigned>(day.day()));
    if (token == "YYYY") return padded(year, 4);
    if (token == "YY") return padded(year % 100, 2);
    if (token == "MMM") return months[static_cast<std::size_t>(month - 1)];
    if (token == "MM") return padded(month, 2);
    if (token == "M") return std::to_string(month);
    if (token == "DDD") return padded(day_of_year(day), 3);
    if (token == "DD") return padded(in_month, 2);
    if (token == "D") return std::to_string(in_month);
    if (token == "WW") return padded(week_of(day).number, 2);
    if (token == "GGGG") return padded(week_of(day).year, 4);
    if (token == "GG") return padded(week_of(day).year % 100, 2);
    return {};
}

bool is_letter(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

} // namespace

Day today() {
    const std::time_t now = system_clock::to_time_t(system_clock::now());
    std::tm local{};
    localtime_r(&now, &local);
    return Day(year(local.tm_year + 1900), month(static_cast<unsigned>(local.tm_mon + 1)),
               day(static_cast<unsigned>(local.tm_mday)));
}

Result<Day> day_from(std::string_view text) {
    const auto number = [&](std::size_t from, std::size_t count) -> std::optional<int> {
        if (from + count > text.size()) return std::nullopt;
        int value = 0;
        const char* end = text.data() + from + count;
        const auto read = std::from_chars(text.data() + from, end, value);
        return read.ec == std::errc() && read.ptr == end && value >= 0 ? std::optional(value) : std::nullopt;
    };
    const auto y = number(0, 4), m = number(5, 2), d = number(8, 2);
    if (text.size() == 10 && text[4] == '-' && text[7] == '-' && y && m && d && *y >= 1900 && *y < 2200) {
        const Day found(year(*y), month(static_cast<unsigned>(*m)), day(static_cast<unsigned>(*d)));
        if (found.ok()) return found;
    }
    return fail("content.date", "\"" + std::string(text.substr(0, 40)) + "\" is no day.",
                "Write it as 2026-03-14: year, month, day.");
}

std::string text_of(const Day& day) {
    return *format_day(day, "YYYY-MM-DD");
}

Result<std::string> format_day(const Day& day, std::string_view pattern) {
    std::string text;
    for (std::size_t i = 0; i < pattern.size();) {
        if (pattern[i] == '\'') {
            const auto end = pattern.find('\'', i + 1);
            if (end == std::string_view::npos)
                return fail("content.date_format", "The date's pattern opens an apostrophe that it does not close.",
                            "Write words as 'WEEK'.");
            text += end == i + 1 ? "'" : pattern.substr(i + 1, end - i - 1);
            i = end + 1;
            continue;
        }
        if (!is_letter(pattern[i])) {
            text += pattern[i++];
            continue;
        }
        std::size_t end = i;
        while (end < pattern.size() && pattern[end] == pattern[i])
            ++end;
        const std::string_view token = pattern.substr(i, end - i);
        const std::string part = written(day, token);
        if (part.empty())
            return fail("content.date_format", "The date's pattern has \"" + std::string(token) + "\".",
                        "It knows YYYY YY MM M MMM DD D DDD WW GGGG GG; words stand between apostrophes.");
        text += part;
        i = end;
    }
    return text;
}

} // namespace touchmark::content
