// SPDX-License-Identifier: MIT
#pragma once

#include "core/job/job.h"

/// Edits of a job's variables. Errors besides content::check()'s: "job.no_variable", "job.variable_exists",
/// "job.out_of_range" (too many).
namespace touchmark::job {

[[nodiscard]] Result<Job> add_variable(Job job, content::Variable variable);
/// In the place of the one called `name`. Another name is carried into every text and check digit that has the old one.
[[nodiscard]] Result<Job> set_variable(Job job, std::string_view name, content::Variable variable);
/// Texts that name it keep the name, and a finding says so.
[[nodiscard]] Result<Job> remove_variable(Job job, std::string_view name);
/// Null takes it away.
[[nodiscard]] Result<Job> set_table(Job job, content::TablePtr table);

/// Every variable in range, no name given twice; what the edits and the job file have in common.
[[nodiscard]] Status check(const content::Variables& variables);

} // namespace touchmark::job
