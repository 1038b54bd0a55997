// SPDX-License-Identifier: MIT
#pragma once

#include "core/job/job.h"

namespace touchmark::job {

/// The JSON of docs/job.schema.json. `beside` is the job file's folder, absolute: part paths below or near it become
/// relative. What comes out is read back exactly, every number to the last bit.
[[nodiscard]] std::string to_json(const Job& job, const std::filesystem::path& beside);
/// Unknown keys of a newer minor version are refused by name rather than dropped. Errors: "job.malformed" (line and
/// column or key), "job.newer_version", "job.out_of_range".
[[nodiscard]] Result<Job> from_json(std::string_view json, const std::filesystem::path& beside);
[[nodiscard]] Status save_job(const Job& job, const std::filesystem::path& file);
[[nodiscard]] Result<Job> load_job(const std::filesystem::path& file);
/// The published JSON schema (draft 2020-12), made from the parameter table; docs/job.schema.json holds its text and a
/// test compares.
[[nodiscard]] std::string job_schema();

} // namespace touchmark::job
