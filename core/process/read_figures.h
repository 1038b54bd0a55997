// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/json.h"
#include "core/process/process.h"

/// What profiles, and those that stand on another one, are read with. Trouble is left in the node's.
namespace touchmark::process {

/// {"value": 0.4, "unit": "mm", "source": "…", "assumed": true}. An empty unit means that the figure has none.
[[nodiscard]] Sourced read_sourced(const json::Node& node, std::string_view unit, double least, double most);
[[nodiscard]] Sourced read_length(const json::Node& node);
[[nodiscard]] Mode read_mode(const json::Node& node);
[[nodiscard]] Zone read_zone(const json::Node& node);
void read_wedge(const json::Node& node, std::vector<WedgeStep>& wedge, std::string& source);
inline constexpr json::Format process_format{
    .name = "touchmark process", .newer_code = "process.newer_version", .is_a = "a process profile"};

} // namespace touchmark::process
