// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <string>
#include <string_view>
#include <vector>

namespace touchmark::content {

/// "tnum, zero" → its entries, without blanks and without those that are empty.
[[nodiscard]] inline std::vector<std::string> entries_of(std::string_view list) {
    std::vector<std::string> entries;
    while (!list.empty()) {
        const auto comma = list.find(',');
        std::string one(list.substr(0, comma));
        std::erase(one, ' ');
        list = comma == list.npos ? std::string_view() : list.substr(comma + 1);
        if (!one.empty()) entries.push_back(std::move(one));
    }
    return entries;
}

} // namespace touchmark::content
