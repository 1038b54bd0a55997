// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/result.h"

#include <chrono>
#include <string>
#include <string_view>

namespace touchmark::content {

using Day = std::chrono::year_month_day;

/// By the clock of this machine.
[[nodiscard]] Day today();
/// "2026-03-14" (ISO 8601). Errors: "content.date": no such day, or out of the years 1900 to 2199.
[[nodiscard]] Result<Day> day_from(std::string_view text);
[[nodiscard]] std::string text_of(const Day& day);

/// A day by a pattern of: YYYY and YY the year, MM and M the month, MMM its English short name in capitals, DD and D
/// the day, DDD the day of the year; WW the week and GGGG and GG its year by ISO 8601. Words stand between
/// apostrophes, two apostrophes are one; what is no letter stands for itself. Errors: "content.date_format".
[[nodiscard]] Result<std::string> format_day(const Day& day, std::string_view pattern);

} // namespace touchmark::content
