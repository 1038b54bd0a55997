// SPDX-License-Identifier: MIT
#pragma once

#include "core/pipeline/store.h"

namespace touchmark::pipeline {

/// How wide the bridges of a mark are with that process, mm; nullopt: it has none.
[[nodiscard]] std::optional<double> bridge_width(const job::Mark& mark, const process::Process& process);
/// The drawing with its counters held by bridges that wide. `key`: of the drawing. Errors: "cancelled".
[[nodiscard]] Result<std::shared_ptr<const BridgedDrawing>>
bridged_drawing(Store& store, const Digest& key, const content::Drawn& drawn, double width, const Progress& progress);

} // namespace touchmark::pipeline
