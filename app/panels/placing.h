// SPDX-License-Identifier: MIT
#pragma once

#include "core/job/job.h"
#include "core/plate/plate.h"

#include <span>

namespace touchmark::panels {

/// What a mark says before anybody typed.
inline constexpr const char* first_words = "TEXT";

/// The flat face that takes a first mark best: most suitable zone, then the most room; none that is kept clear. Sized
/// to its room. Blocks for
/// some milliseconds. Errors: "placing.no_face".
[[nodiscard]] Result<job::Mark> place_by_itself(const part::Part& part, const plate::Meshes& meshes,
                                                const plate::Pose& pose, const process::Process& process,
                                                std::span<const job::ClearFace> kept_clear = {});

} // namespace touchmark::panels
