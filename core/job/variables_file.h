// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/json.h"
#include "core/job/job.h"

/// The variables' part of the job file and of its schema.
namespace touchmark::job {

inline constexpr const char* variables_key = "variables";
inline constexpr const char* table_key = "table";

[[nodiscard]] nlohmann::ordered_json write_variables(const content::Variables& variables);
[[nodiscard]] nlohmann::ordered_json write_table(const content::Table& table);
/// Of the whole job; both members may be absent.
[[nodiscard]] content::Variables read_variables(const json::Node& root);
[[nodiscard]] nlohmann::ordered_json variables_schema();
[[nodiscard]] nlohmann::ordered_json table_schema();

} // namespace touchmark::job
