// SPDX-License-Identifier: MIT
#pragma once

// Where things are on the test strip. Internal to fitting.

#include "core/base/vector.h"
#include "core/fitting/items.h"

namespace touchmark::fitting {

/// A place on a face: part mm, with the reading direction and what is up to a reader.
struct Spot {
    Vec3 at, along, up;

    [[nodiscard]] Vec3 normal() const { return cross(along, up); }
};

/// A label or an item.
struct Placed {
    Spot spot;
    std::string text;           ///< of a label
    double cap_mm = 0;          ///< of a label
    const Item* item = nullptr; ///< null: a label
};

/// As it lies on the plate: the body, behind its right end the wedge's steps, a rim for their numbers and the thin
/// plate for hidden codes. Disjoint but for the faces in which they touch.
[[nodiscard]] std::vector<Box3> blocks_of(const process::Process& process);

/// REQUIRES: `items` are items_of(process). Steps of the wedge are no marks: of them there are labels alone.
[[nodiscard]] std::vector<Placed> placed(const process::Process& process, std::span<const Item> items);

} // namespace touchmark::fitting
