// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/words.h"
#include "core/geometry/outline.h"
#include "core/part/part.h"

#include <memory>
#include <vector>

namespace touchmark::surface {

class Chart;
struct Unrolling;

/// Millimetres of a mark ↔ one face of a part. The map's origin is the centre of the largest rectangle that fits the
/// face; seen from outside, x runs to the right and y up. The axes follow the face's longest straight edge (turned by
/// quarter turns so that y is as near as possible to the part's +Z, or to +Y on a face that faces ±Z), so the same file
/// always gives the same map, whatever its pose. Cylinders and cones are rolled out: lengths are those on the surface;
/// their straight edges are the generators. A face that runs once round its axis has its origin where it faces −Y
/// (failing that +Z, then +X), away from holes. A sphere, a torus or a freeform face cannot be rolled out: its own map
/// only says where on it something is (straight lines of its parameters, mm near the middle), and about() gives the one
/// in which a mark is laid, whose lengths are true.
class FaceMap : public std::enable_shared_from_this<FaceMap> {
public:
    virtual ~FaceMap() = default;

    [[nodiscard]] virtual int face() const = 0;
    /// All faces that the map runs over, its own first: those of one surface with it that go on in one another.
    [[nodiscard]] virtual std::vector<int> faces() const { return {face()}; }
    [[nodiscard]] virtual part::FaceKind kind() const = 0;
    /// Mark mm → part coordinates, on the surface (also beyond the face's edge).
    [[nodiscard]] virtual Vec3 point(Vec2 at) const = 0;
    /// Outward unit normal there.
    [[nodiscard]] virtual Vec3 normal(Vec2 at) const = 0;
    /// Direction of growing x, unit; turned about the normal it gives the reading direction.
    [[nodiscard]] virtual Vec3 x_direction(Vec2 at) const = 0;
    /// The mark position of the surface point nearest to `point`.
    [[nodiscard]] virtual Vec2 locate(Vec3 point) const = 0;
    /// How a cylinder or cone is rolled out; nullptr on other faces.
    [[nodiscard]] virtual const Unrolling* unrolling() const = 0;
    /// How a mark is laid on a face that cannot be rolled out; nullptr on other faces and on such a face's own map.
    [[nodiscard]] virtual const Chart* chart() const { return nullptr; }
    /// The map for a mark at `at`: this one where lengths are true everywhere, else one about that point. There the two
    /// agree in place, normal and x direction, so that a mark is placed alike on either. Takes some milliseconds on a
    /// freeform face.
    [[nodiscard]] virtual std::shared_ptr<const FaceMap> about(Vec2, Laying) const { return shared_from_this(); }
    /// The same place on the face's own map: there marks about different points can be compared.
    [[nodiscard]] virtual Vec2 on_face(Vec2 at) const { return at; }
    /// Its inverse; far away only roughly.
    [[nodiscard]] virtual Vec2 from_face(Vec2 on_face) const { return on_face; }
    /// The boundary of all faces() together in mark mm, curves within 0.002 mm. A face that runs once round
    /// its axis is shown a whole turn to either side of its centre, so that no seam is in the way (a wide cone as far
    /// as its unrolling does not meet itself).
    [[nodiscard]] virtual const geometry::Outline& room() const = 0;
    /// The largest axis-parallel rectangle in the face itself, centred on (0, 0): the face's rectangle_mm.
    [[nodiscard]] virtual Vec2 rectangle() const = 0;
};
using FaceMapPtr = std::shared_ptr<const FaceMap>;

/// Whether about() gives another map, for faces that cannot be rolled out.
[[nodiscard]] constexpr bool is_laid_about_its_anchor(part::FaceKind kind) {
    return kind == part::FaceKind::sphere || kind == part::FaceKind::torus || kind == part::FaceKind::freeform;
}

/// Whether marks on the two may meet: they have a face in common.
[[nodiscard]] bool share_a_face(const FaceMap& a, const FaceMap& b);

/// The face's own map. Errors: "surface.no_face" (index out of range), "surface.no_map" (a kind that has no map),
/// "surface.degenerate".
[[nodiscard]] Result<FaceMapPtr> map_face(const part::Part& part, int face);

/// Where and how a mark sits on its face; see job::Anchor.
[[nodiscard]] geometry::Affine placement(Vec2 at, Degrees turn);

/// Smallest signed distance (mm) from a placed outline to the face's boundary: negative where it leaves the face, by
/// how much.
struct Margin {
    double distance = 0;
    Vec2 on_mark, on_edge; ///< mark mm
};
[[nodiscard]] Margin margin(const FaceMap& map, const geometry::Outline& placed);

/// The shift (mm) of smallest length found that gives `placed` at least `wanted` mm to every edge; nullopt where the
/// mark is too big.
[[nodiscard]] std::optional<Vec2> shift_inward(const FaceMap& map, const geometry::Outline& placed, double wanted);

} // namespace touchmark::surface
