// SPDX-License-Identifier: MIT
#pragma once

#include "core/part/part.h"

#include <string_view>

namespace touchmark::test {

/// What a mark that was put straight into one face takes away or adds, by OpenCASCADE's integration over the mark's
/// faces and lids of the face's surface over them: the rest of a freeform face would cost all accuracy. mm³. The mark's
/// faces are those that know it, or, in a part that was read from a file, are called `name`.
[[nodiscard]] double pocket_volume(const part::Part& marked, int body, std::string_view name = {});

/// The share of the mark's faces alone in the body's volume, by the divergence theorem about a point. mm³.
[[nodiscard]] double volume_over_mark(const part::Part& marked, int body, Vec3 about, std::string_view name = {});

} // namespace touchmark::test
