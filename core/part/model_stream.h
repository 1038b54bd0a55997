// SPDX-License-Identifier: MIT
#pragma once

#include "core/part/part_data.h"

#include <span>
#include <vector>

namespace touchmark::part {

/// How a file that was read goes from the worker to the program: the model and what was measured of it. Triangles do
/// not travel.
[[nodiscard]] std::vector<char> to_bytes(const Model& model, const Measures& measures);

struct Delivered {
    Model model;
    Measures measures;
};
/// Throws std::out_of_range or what OpenCASCADE throws when the bytes are not those of to_bytes().
[[nodiscard]] Delivered from_bytes(std::span<const char> bytes);

} // namespace touchmark::part
