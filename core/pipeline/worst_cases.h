// SPDX-License-Identifier: MIT
#pragma once

#include "core/pipeline/store.h"

namespace touchmark::pipeline {

/// content::worst_cases() of the mark's content, remembered for all its sizes, as its letters are.
[[nodiscard]] std::shared_ptr<const std::vector<content::WorstCase>>
worst_cases(Store& store, const content::Content& content, const content::Variables& variables, content::Day day,
            const std::shared_ptr<const content::FontLibrary>& fonts, const Progress& progress);

} // namespace touchmark::pipeline
