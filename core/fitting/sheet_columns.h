// SPDX-License-Identifier: MIT
#pragma once

// Internal to fitting.

#include <array>
#include <string_view>

namespace touchmark::fitting {

inline constexpr std::array<std::string_view, 10> sheet_columns{
    "item",        "what",          "planned_mm",  "printed",     "came_out",
    "measured_mm", "light_percent", "lux_through", "lux_without", "remark"};

} // namespace touchmark::fitting
