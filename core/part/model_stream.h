// SPDX-License-Identifier: MIT
#pragma once

#include "core/part/part_data.h"

#include <span>
#include <vector>

namespace touchmark::part {

/// How a file that was read goes from the worker to the program: the model and, when the program is already busy with
/// it, what was measured of it. Triangles do not travel.
[[nodiscard]] std::vector<char> to_bytes(const Model& model);
[[nodiscard]] std::vector<char> to_bytes(const Measures& measures);

// Both throw std::out_of_range or what OpenCASCADE throws when the bytes are not those of to_bytes().
[[nodiscard]] Model model_from(std::span<const char> bytes);
[[nodiscard]] Measures measures_from(std::span<const char> bytes);

} // namespace touchmark::part
