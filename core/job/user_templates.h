// SPDX-License-Identifier: MIT
#pragma once

#include "core/content/content.h"

#include <filesystem>

namespace touchmark::job {

/// Where a user's own templates are: touchmark/templates in the folder for data ($XDG_DATA_HOME, else ~/.local/share).
[[nodiscard]] std::filesystem::path template_folder();
/// One file a template, written as a job with one mark and no part. Letters, figures, space, dash and underscore make a
/// name. Errors: "job.template_name", those of writing a file.
[[nodiscard]] Status save_template(const std::filesystem::path& folder, std::string_view name,
                                   const content::Content& content);
/// Errors: "job.template_name", "job.no_template", those of reading a job.
[[nodiscard]] Result<content::Content> load_template(const std::filesystem::path& folder, std::string_view name);
/// In alphabetical order.
[[nodiscard]] std::vector<std::string> template_names(const std::filesystem::path& folder);

} // namespace touchmark::job
