// SPDX-License-Identifier: MIT
#pragma once

#include "core/part/part.h"

namespace touchmark::test {

/// What a mark that was put straight into one face takes away or adds, by OpenCASCADE's integration over the mark's
/// faces and lids of the face's surface over them: the rest of a freeform face would cost all accuracy. mm³.
[[nodiscard]] double pocket_volume(const part::Part& marked, int body);

/// The share of the mark's faces alone in the body's volume, by the divergence theorem about a point. mm³.
[[nodiscard]] double volume_over_mark(const part::Part& marked, int body, Vec3 about);

} // namespace touchmark::test
