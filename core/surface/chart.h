// SPDX-License-Identifier: MIT
#pragma once

// How a flat outline is laid about a point of a surface that cannot be rolled out. For surface and imprint only.

#include "core/base/words.h"
#include "core/surface/curved_face.h"

#include <optional>

namespace touchmark::surface {

/// The tangent plane at the point about which a mark is laid.
struct Anchorage {
    Vec2 at;            ///< in the mark's mm
    Vec2 uv;            ///< there, in the surface's parameters
    Frame frame;        ///< in part coordinates; z out of the material, x the mark's
    Vec2 across, along; ///< d(u, v) / dx and / dy there
};

/// Mark mm → parameters of the surface, smooth and without folds about its anchor.
class Chart {
public:
    virtual ~Chart() = default;
    Chart(const Chart&) = delete;
    Chart& operator=(const Chart&) = delete;

    [[nodiscard]] const CurvedFace& face() const { return *face_; }
    [[nodiscard]] const Anchorage& anchorage() const { return anchorage_; }

    /// (u, v), going on smoothly across seams. Beyond what the chart holds it is carried on somehow.
    [[nodiscard]] Vec2 parameters(Vec2 at) const { return anchorage_.uv + away(at - anchorage_.at); }
    /// The place with these parameters, whole periods counted. `near`: where to begin. nullopt beyond the chart.
    [[nodiscard]] std::optional<Vec2> at(Vec2 uv, Vec2 near) const;
    [[nodiscard]] std::optional<Vec2> at(Vec2 uv) const;
    /// Whether the mark's mm there still are what they should be: not beyond a pole, a fold, or half way round.
    [[nodiscard]] bool holds(Vec2 at) const;
    /// Polygons of the parameter plane in the mark's mm, cut off where the chart ends; within 1e-3 mm. nullopt where a
    /// place cannot be found.
    [[nodiscard]] std::optional<std::vector<geometry::Polygon>> laid(const std::vector<geometry::Polygon>& loops) const;

protected:
    Chart(std::shared_ptr<const CurvedFace> face, const Anchorage& anchorage)
        : face_(std::move(face)), anchorage_(anchorage) {}
    /// Parameters relative to the anchor's, of a place relative to it.
    [[nodiscard]] virtual Vec2 away(Vec2 from_anchor) const = 0;
    /// Its inverse, beginning at `near`.
    [[nodiscard]] virtual std::optional<Vec2> back(Vec2 from_anchor_uv, Vec2 near) const;
    /// Ends of rays at equal angles from the anchor; a polygon about it. The chart holds what is within `kept` of it.
    void end_at(std::vector<double> reach);
    [[nodiscard]] bool reaches(Vec2 from_anchor, double part) const;
    static constexpr double kept = 0.97;

private:
    [[nodiscard]] geometry::Polygon rim() const;
    void lay(Vec2 uv_a, Vec2 a, Vec2 uv_b, Vec2 b, int depth, geometry::Polygon& out) const;
    [[nodiscard]] std::optional<geometry::Polygon> laid(const geometry::Polygon& loop) const;

    std::shared_ptr<const CurvedFace> face_;
    Anchorage anchorage_;
    std::vector<double> reach_;
    geometry::Polygon rim_; ///< in parameters times the face's scale, relative to the anchor's
};
using ChartPtr = std::shared_ptr<const Chart>;

/// By arc length along the surface: exact on a sphere; elsewhere places between shot geodesics are interpolated.
/// Or projected along the anchor's normal.
[[nodiscard]] ChartPtr chart_about(const std::shared_ptr<const CurvedFace>& face, const Anchorage& anchorage,
                                   Laying laying);

/// The one for spheres; nullptr on another surface.
[[nodiscard]] ChartPtr sphere_chart(const std::shared_ptr<const CurvedFace>& face, const Anchorage& anchorage,
                                    Laying laying);

} // namespace touchmark::surface
