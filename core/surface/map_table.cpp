// SPDX-License-Identifier: MIT
#include "core/surface/map_table.h"

#include "core/part/guard.h"

#include <algorithm>
#include <array>
#include <string>

namespace touchmark::surface {
namespace {

constexpr std::array kinds{
    MapKind{part::FaceKind::plane, map_plane}, MapKind{part::FaceKind::cylinder, map_cylinder},
    MapKind{part::FaceKind::cone, map_cone},   MapKind{part::FaceKind::sphere, map_sphere},
    MapKind{part::FaceKind::torus, map_torus}, MapKind{part::FaceKind::freeform, map_freeform},
    // Add new kinds here.
};

} // namespace

std::span<const MapKind> map_kinds() {
    return kinds;
}

bool share_a_face(const FaceMap& a, const FaceMap& b) {
    if (a.face() == b.face()) return true;
    const std::vector<int> faces = a.faces();
    return std::find(faces.begin(), faces.end(), b.face()) != faces.end();
}

Result<FaceMapPtr> map_face(const part::Part& part, int index) {
    if (index < 0 || index >= static_cast<int>(part.faces().size()))
        return fail("surface.no_face",
                    "There is no face " + std::to_string(index) + "; the part has " +
                        std::to_string(part.faces().size()) + " faces.",
                    "Choose one of the faces from 0 to " + std::to_string(part.faces().size() - 1) + ".");
    const part::Face& face = part.faces()[static_cast<std::size_t>(index)];
    const auto row = std::find_if(kinds.begin(), kinds.end(), [&](const MapKind& k) { return k.kind == face.kind; });
    if (row == kinds.end())
        return fail("surface.no_map",
                    "Face " + std::to_string(index) + " is a " + std::string(part::key_of(face.kind)) +
                        "; marks do not go on such faces.",
                    "Choose another face.");
    return part::guarded("surface.degenerate", "Reading face " + std::to_string(index),
                         [&] { return row->map(part, face); });
}

} // namespace touchmark::surface
