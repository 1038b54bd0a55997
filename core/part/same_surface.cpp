// SPDX-License-Identifier: MIT
#include "core/part/same_surface.h"

#include <cmath>

namespace touchmark::part {

bool same_surface(const Face& a, const Face& b) {
    if (a.kind != b.kind || a.body != b.body) return false;
    if (a.fingerprint == b.fingerprint) return true;
    const bool parallel = dot(a.frame.z, b.frame.z) > 1 - 1e-9;
    const Vec3 between = b.frame.origin - a.frame.origin;
    if (a.kind == FaceKind::plane) return parallel && std::abs(dot(a.frame.z, between)) < 1e-6;
    return parallel && length(between) < 1e-6 && std::abs(a.radius_mm - b.radius_mm) < 1e-6;
}

} // namespace touchmark::part
