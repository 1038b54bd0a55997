// SPDX-License-Identifier: MIT
#pragma once

// A cylinder or cone that the part stores as something else. The face keeps its surface: another one would ask for new
// curves on all its edges, and so for new neighbours. Marks are built on the cylinder or cone, exactly as on any other;
// only their rims' curves in the parameters of the host are fitted.

#include "core/surface/unrolling.h"

#include <Geom2d_Curve.hxx>
#include <Geom_Curve.hxx>
#include <Geom_Surface.hxx>
#include <TopLoc_Location.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Face.hxx>

#include <array>
#include <functional>
#include <optional>
#include <vector>

namespace touchmark::imprint {

/// The parameters (s, t) of the stored surface against those of the unrolling, over what the face covers. Asked by
/// several threads at once: it evaluates the surface itself, not through an adaptor, which remembers where it was.
class StoredRound {
public:
    /// `unrolling`: in the product's coordinates.
    StoredRound(const TopoDS_Face& face, const surface::Unrolling& unrolling);

    /// u goes on over the whole face, so that the two sides of a seam are a turn apart.
    [[nodiscard]] Vec2 unrolled(Vec2 stored) const;
    /// How far points of a seam may be off its angle, radians.
    [[nodiscard]] double seam_hair() const;
    /// Gives the edge its curve on the surface, and tolerance where that asks for it. `uv`: where its curve is at each
    /// part of it, 0 to 1, whole turns aside. Leaves it without where the surface does not reach.
    void lay_on(const TopoDS_Edge& edge, const std::function<Vec2(double)>& uv) const;

private:
    struct Node {
        Vec2 stored, unrolled;
    };
    struct Fit {
        double first = 0, last = 0;
        std::array<Vec2, 6> poles;
        double off = 0;
    };
    using Wanted = std::function<Vec3(double)>;               ///< a point of the rim
    using Place = std::function<std::optional<Vec2>(double)>; ///< its stored parameters

    void add_node(int i, int k);
    [[nodiscard]] Vec3 point(Vec2 stored) const;
    [[nodiscard]] std::optional<Vec2> stored(const Vec3& p, Vec2 near_unrolled) const;
    [[nodiscard]] bool fit(const Wanted& wanted, double first, double last, const Place& place, std::vector<Fit>& out,
                           int depth) const;
    [[nodiscard]] std::optional<double> cut(double first, double last, const Place& place) const;

    surface::Unrolling unrolling_;
    Handle(Geom_Surface) stored_; ///< as the face has it, without the location
    TopLoc_Location location_;
    std::array<double, 2> low_{}, high_{};
    std::array<std::vector<double>, 2> breaks_; ///< where it is less than three times smooth
    std::vector<Node> nodes_;
    double least_u_ = 1e300, most_u_ = -1e300;
};

} // namespace touchmark::imprint
