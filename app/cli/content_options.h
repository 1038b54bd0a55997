// SPDX-License-Identifier: MIT
#pragma once

#include "app/cli/arguments.h"
#include "core/job/job.h"

namespace touchmark::cli {

/// Of a mark's values: all, or only those that its content has.
enum class Which { every_value, content };

/// Options that say what a mark says and how: mark and outline share them.
[[nodiscard]] std::vector<Option> content_options(Which which);
/// The job's first mark as the options describe it. Errors: "cli.usage" unless exactly one option gives the content;
/// those of job::set_parameter() and of reading a drawing.
[[nodiscard]] Result<job::Job> with_content(job::Job job, const Arguments& arguments);

} // namespace touchmark::cli
