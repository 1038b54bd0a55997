// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

namespace touchmark::test {

/// What touchmark-cli answered.
struct Answer {
    int exit = -1; ///< 128 + the signal's number when it was killed
    std::string out, err;

    [[nodiscard]] nlohmann::json json() const { return nlohmann::json::parse(out); }
    [[nodiscard]] long error_lines() const { return std::count(err.begin(), err.end(), '\n'); }
};

/// Runs the program that was built beside the tests. `folder`: where it runs; empty: here.
[[nodiscard]] Answer touchmark_cli(const std::vector<std::string>& arguments, const std::filesystem::path& folder = {});

/// A folder of this test's own, empty.
[[nodiscard]] std::filesystem::path scratch_folder();
[[nodiscard]] std::string demo_part();

} // namespace touchmark::test
