// SPDX-License-Identifier: MIT
#pragma once

// A face that runs once round its axis has a seam: an edge that it uses on both sides. A mark across it interrupts the
// seam; the neighbours stay as they are.

#include "core/base/result.h"
#include "core/imprint/round_walls.h"
#include "core/imprint/shell_edit.h"

namespace touchmark::imprint {

/// The surface of a round face; of a face with a seam `low` is the angle of the seam.
[[nodiscard]] RoundHost round_host(const TopoDS_Face& face, const surface::Unrolling& unrolling);

/// Whether every edge that the face has on both sides runs along a generator.
[[nodiscard]] bool has_straight_seams(const TopoDS_Face& face, const RoundHost& host);

/// Takes the contours that cross the seam as further edges beside it. `opened.host` has them as inner wires, split at
/// the seam. Pieces that come apart in the parameter plane are further faces among the islands. Errors:
/// "imprint.failed".
[[nodiscard]] Status interrupt_seam(OpenedFace& opened, const RoundHost& host);

} // namespace touchmark::imprint
