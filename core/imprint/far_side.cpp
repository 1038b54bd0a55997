// SPDX-License-Identifier: MIT
#include "core/imprint/far_side.h"

#include "core/base/number_text.h"
#include "core/imprint/outline_points.h"
#include "core/imprint/ray.h"

#include <algorithm>
#include <cmath>

namespace touchmark::imprint {
namespace {

constexpr double skin = 1e-2;   // mm under the surface where looking begins
constexpr double same = 5e-3;   // mm within which hits are one: triangles share their edges
constexpr double apart = 0.05;  // mm that must be free behind the wall
constexpr double spacing = 0.5; // mm between places looked at, wider on large marks

struct Hit {
    double depth = 0;
    int face = -1;
};

/// All triangles along a ray.
class Hits {
public:
    Hits(const Vec3& from, const Vec3& way, double begin) : ray_{from, way}, begin_(begin) {}

    [[nodiscard]] static double best() { return 1e299; }
    [[nodiscard]] double bound(const Box3& box) const { return ray_.entry(box); }
    void look(const Triangle& triangle) {
        constexpr double edge = 1e-9;
        if (const auto depth = ray_.hit(triangle, edge); depth && *depth > begin_)
            hits_.push_back({*depth, triangle.face});
    }
    /// Nearest first, each place once.
    [[nodiscard]] std::vector<Hit> hits() {
        std::ranges::sort(hits_, {}, &Hit::depth);
        std::vector<Hit> once;
        for (const Hit& hit : hits_)
            if (once.empty() || hit.depth - once.back().depth > same) once.push_back(hit);
        return once;
    }

private:
    Ray ray_;
    double begin_;
    std::vector<Hit> hits_;
};

} // namespace

Result<FarSide> far_side(const Footprint& mark, double mesh_tolerance, const TriangleTree& tree) {
    // The mesh of a curved face lies beside it, and what looks like its far side may be the face itself.
    const double begin = skin + (mark.map->kind() == part::FaceKind::plane ? 0 : 2 * mesh_tolerance);
    FarSide out;
    out.nearest = 1e300;
    for (const Vec2 at : points_of(mark.outline, spacing)) {
        Hits along(mark.map->point(at), -mark.map->normal(at), begin);
        tree.visit(along);
        const std::vector<Hit> hits = along.hits();
        if (hits.empty())
            return fail("imprint.blocked", "There is no far side behind \"" + mark.name + "\" to cut through to.",
                        "Move the mark to where a wall lies behind its face.");
        out.nearest = std::min(out.nearest, hits[0].depth);
        out.farthest = std::max(out.farthest, hits[0].depth);
        if (std::ranges::find(out.faces, hits[0].face) == out.faces.end()) out.faces.push_back(hits[0].face);
        if (hits.size() > 1) out.next = std::min(out.next.value_or(1e300), hits[1].depth);
    }
    if (out.next && *out.next < out.farthest + apart)
        return fail("imprint.blocked",
                    "Behind \"" + mark.name + "\" one part of the wall ends " + text_of(Mm(out.farthest)) +
                        " deep where another begins " + text_of(Mm(*out.next)) + " deep: there is no place to stop.",
                    "Move the mark to where one wall with free space behind it lies under it.");
    return out;
}

} // namespace touchmark::imprint
