// SPDX-License-Identifier: MIT
#pragma once

#include "core/imprint/imprint.h"

namespace touchmark::test {

/// Lettering of that height, "B8&" or any other.
[[nodiscard]] geometry::Outline letters(std::string_view text, double cap_height);

/// A mark on the face, in the middle of its largest rectangle, or none when the face has no map or no room.
[[nodiscard]] std::optional<imprint::Footprint> mark_for(const part::Part& part, int face, std::string_view text,
                                                         Mode mode);

/// The faces of one kind on solids, by the size of the rectangle in them, the largest first.
[[nodiscard]] std::vector<int> roomy_faces(const part::Part& part, part::FaceKind kind, std::size_t most);

} // namespace touchmark::test
