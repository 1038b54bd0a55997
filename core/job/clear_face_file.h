// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/json.h"
#include "core/job/job.h"

/// The part of the job file, and of its schema, about faces that are kept clear.
namespace touchmark::job {

inline constexpr const char* kept_clear_key = "kept_clear";

[[nodiscard]] nlohmann::ordered_json write_kept_clear(const Job& job);
/// Of the whole job; the member may be absent.
void read_kept_clear(const json::Node& root, Job& job);
[[nodiscard]] nlohmann::ordered_json kept_clear_schema();

} // namespace touchmark::job
