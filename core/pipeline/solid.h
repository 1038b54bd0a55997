// SPDX-License-Identifier: MIT
#pragma once

#include "core/pipeline/store.h"

namespace touchmark::pipeline {

/// Makes the marks one after another, going on from the longest run of first marks that is still remembered; the last
/// one is always a step of its own, so that editing it makes only it anew. Errors: imprint()'s.
[[nodiscard]] Result<std::shared_ptr<const Step>> made_solid(Store& store, const part::PartPtr& part,
                                                             std::span<const imprint::Footprint> marks,
                                                             imprint::RouteChoice route, const Progress& progress);

} // namespace touchmark::pipeline
