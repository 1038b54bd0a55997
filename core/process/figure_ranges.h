// SPDX-License-Identifier: MIT
#pragma once

namespace touchmark::process {

/// What the figures of a profile may be; docs/process.schema.json says the same.
inline constexpr double least_size_mm = 0.01, most_size_mm = 10; ///< nozzle, line width, layers
inline constexpr double most_angle_deg = 180;
inline constexpr double most_limit = 1000;

} // namespace touchmark::process
