// SPDX-License-Identifier: MIT
#include "core/part/part_data.h"

#include <algorithm>
#include <cmath>

// The digest is not a hash but the rounded values themselves, packed side by side, so that two fingerprints can be
// compared for nearness even when one of them comes from a saved job:
//   high: kind 3 | area 21 | extent 12 | centroid x 28
//   low:  direction 8 | centroid y 28 | centroid z 28
// The area and the extent are rounded on a logarithmic scale, the centroid to a micrometre grid that wraps at ±134 m.

namespace touchmark::part {
namespace {

constexpr double grid_mm = 1e-3;
constexpr std::uint64_t place_mask = (1ull << 28) - 1;
constexpr int area_bits = 21, extent_bits = 12, octant_steps = 15;
constexpr double log_range = 96; // log2 from -48 to 48

std::uint64_t logarithmic(double value, int bits) {
    if (!(value > 0)) return 0;
    const double scaled = (std::log2(value) + log_range / 2) / log_range * std::ldexp(1.0, bits);
    return static_cast<std::uint64_t>(std::clamp(std::round(scaled), 1.0, std::ldexp(1.0, bits) - 1));
}

double from_logarithmic(std::uint64_t code, int bits) {
    return std::exp2(static_cast<double>(code) / std::ldexp(1.0, bits) * log_range - log_range / 2);
}

std::uint64_t place_code(double mm) {
    const double steps = std::round(std::clamp(mm, -1e12, 1e12) / grid_mm);
    return static_cast<std::uint64_t>(static_cast<std::int64_t>(steps)) & place_mask;
}

double place_difference(std::uint64_t a, std::uint64_t b) {
    const std::uint64_t forward = (a - b) & place_mask, backward = (b - a) & place_mask;
    return static_cast<double>(std::min(forward, backward)) * grid_mm;
}

/// A direction on a 16 × 16 octahedral grid (Cigolle et al., "A survey of efficient representations for independent
/// unit vectors", 2014).
std::uint64_t direction_code(Vec3 d) {
    const auto snapped = [](double t) { return std::abs(t) < 1e-6 ? 0.0 : t; }; // around −z the grid's corners meet
    d = {snapped(d.x), snapped(d.y), snapped(d.z)};
    const double sum = std::abs(d.x) + std::abs(d.y) + std::abs(d.z);
    if (!(sum > 0)) return 0;
    double u = d.x / sum, v = d.y / sum;
    if (d.z < 0) {
        const double folded = (1 - std::abs(v)) * (u < 0 ? -1 : 1);
        v = (1 - std::abs(u)) * (v < 0 ? -1 : 1);
        u = folded;
    }
    // A quarter of a step off centre: the axes, which most faces follow, must not lie where rounding flips.
    const auto step = [](double t) {
        return static_cast<std::uint64_t>(std::clamp(std::floor((t + 1) / 2 * octant_steps + 0.25), 0.0, 15.0));
    };
    return step(u) * 16 + step(v);
}

Vec3 from_direction(std::uint64_t code) {
    const auto middle = [](std::uint64_t step) {
        return std::clamp((static_cast<double>(step) + 0.25) / octant_steps * 2 - 1, -1.0, 1.0);
    };
    const double u = middle(code / 16), v = middle(code % 16), z = 1 - std::abs(u) - std::abs(v);
    if (z >= 0) return normalised({u, v, z});
    return normalised({(1 - std::abs(v)) * (u < 0 ? -1 : 1), (1 - std::abs(u)) * (v < 0 ? -1 : 1), z});
}

struct Unpacked {
    std::uint64_t kind, area, extent, direction, x, y, z;
};

Unpacked unpacked(const Digest& digest) {
    return {digest.high >> 61,
            (digest.high >> 40) & ((1u << 21) - 1),
            (digest.high >> 28) & ((1u << 12) - 1),
            digest.low >> 56,
            digest.high & place_mask,
            (digest.low >> 28) & place_mask,
            digest.low & place_mask};
}

/// How unlike two faces are: 0 the same, above 1 not the same face. `reach` is how far a centroid may have moved.
double unlikeness(const Unpacked& a, const Unpacked& b, double reach) {
    constexpr double nearby = 0.94; // cosine of 20°: the grid's steps are up to 12° wide
    if (a.kind != b.kind || dot(from_direction(a.direction), from_direction(b.direction)) < nearby) return 2;
    const double moved = std::hypot(place_difference(a.x, b.x), place_difference(a.y, b.y), place_difference(a.z, b.z));
    const double grown = std::abs(std::log(from_logarithmic(a.area, area_bits) / from_logarithmic(b.area, area_bits)));
    const double stretched =
        std::abs(std::log(from_logarithmic(a.extent, extent_bits) / from_logarithmic(b.extent, extent_bits)));
    constexpr double largest = 0.25; // of the logarithm: sizes within a factor of 1.28
    return std::max({moved / reach, grown / largest, stretched / largest});
}

} // namespace

Fingerprint fingerprint_of(const Face& face) {
    const std::uint64_t kind = static_cast<std::uint64_t>(face.kind);
    const Vec3 facing = face.frame.z;
    Digest digest;
    digest.high = kind << 61 | logarithmic(face.area_mm2, area_bits) << 40 |
                  logarithmic(length(face.box.size()), extent_bits) << 28 | place_code(face.centroid.x);
    digest.low = direction_code(facing) << 56 | place_code(face.centroid.y) << 28 | place_code(face.centroid.z);
    return {digest};
}

std::optional<int> find_face(const Part& part, const Fingerprint& fingerprint, int hint) {
    const auto& faces = part.faces();
    const auto is_it = [&](const Face& face) { return face.fingerprint == fingerprint; };
    if (hint >= 0 && hint < static_cast<int>(faces.size()) && is_it(faces[static_cast<std::size_t>(hint)])) return hint;
    if (const auto found = std::find_if(faces.begin(), faces.end(), is_it); found != faces.end()) return found->index;

    const double reach = std::max(0.02, 0.02 * length(part.box().size()));
    const Unpacked wanted = unpacked(fingerprint.digest);
    double least = 1;
    std::optional<int> nearest;
    for (const Face& face : faces) {
        const double unlike = unlikeness(wanted, unpacked(face.fingerprint.digest), reach);
        if (unlike < least || (unlike == least && face.index == hint)) {
            least = unlike;
            nearest = face.index;
        }
    }
    return nearest;
}

} // namespace touchmark::part
