// SPDX-License-Identifier: MIT
#pragma once

// What shaped_walls.h is made of: the edges around a contour at one depth, and the edges that lead from one depth to
// the next at its corners. Internal to it.

#include "core/imprint/interpolation.h"
#include "core/imprint/wall_shape.h"

#include <Geom2d_Curve.hxx>
#include <Geom_Curve.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Vertex.hxx>

#include <optional>

namespace touchmark::imprint {

using Septic = Interpolation<7>;
template <class Point> using SepticPoles = std::array<Point, Septic::count>;

template <class Point> [[nodiscard]] SepticPoles<Point> poles_through(const SepticPoles<Point>& values) {
    const auto& matrix = Septic::pole_matrix();
    SepticPoles<Point> poles{};
    for (std::size_t i = 0; i < Septic::count; ++i)
        for (std::size_t j = 0; j < Septic::count; ++j)
            poles[i] = poles[i] + values[j] * matrix[i][j];
    poles.front() = values.front();
    poles.back() = values.back();
    return poles;
}
template <class Point> [[nodiscard]] Point value_of(const SepticPoles<Point>& poles, double t) {
    const auto b = Septic::bernstein(t);
    Point sum{};
    for (std::size_t i = 0; i < Septic::count; ++i)
        sum = sum + poles[i] * b[i];
    return sum;
}

/// Appends the poles of a piece; its first is the last of the one before.
template <class Point> void append_piece(std::vector<Point>& poles, const SepticPoles<Point>& piece) {
    poles.insert(poles.end(), piece.begin() + (poles.empty() ? 0 : 1), piece.end());
}
/// Knots of pieces of equal length that meet without being known to be smooth.
template <class Reals, class Integers>
void knots_of(int pieces, double low, double high, Reals& knots, Integers& folds) {
    for (int k = 0; k <= pieces; ++k) {
        knots(k + 1) = low + (high - low) * k / pieces;
        folds(k + 1) = k == 0 || k == pieces ? static_cast<int>(Septic::count) : static_cast<int>(Septic::count) - 1;
    }
}

/// A curved side as poles of pieces of degree 7, equally long in t: its places, and the ways to which they move.
struct SideFit {
    int pieces = 0; ///< 0: a line, which needs none
    std::vector<Vec2> places, ways;
    double off = 0; ///< of the ways at worst, mm a mm
};
/// nullopt: not to be fitted within 5e-8 mm at the distance.
[[nodiscard]] std::optional<SideFit> fitted_side(const geometry::InsetSide& side, double distance);

/// A contour with all that its walls share.
struct ShapedContour {
    geometry::InsetContour inset;
    std::vector<SideFit> fits;
};

/// Where the walls stand.
struct WallGround {
    Frame frame;
    double way = -1; ///< 1: depths lead off the face

    [[nodiscard]] Vec3 at(Vec2 p, double depth) const { return frame.to_space(p) + frame.z * (way * depth); }
    [[nodiscard]] Vec3 along(Vec2 v) const { return frame.x * v.x + frame.y * v.y; }
};

/// The edges around a contour at a level.
struct Ring {
    WallLevel level;
    struct Joint {
        TopoDS_Vertex before, after; ///< the same where the sides meet
        TopoDS_Edge arc;             ///< from one to the other; null where there is none
    };
    std::vector<Joint> joints;
    std::vector<TopoDS_Edge> sides;
    std::vector<geometry::InsetContour::Range> ranges;
};
/// nullopt where sides no longer meet.
[[nodiscard]] std::optional<Ring> ring_at(const WallGround& ground, const ShapedContour& contour,
                                          const WallLevel& level);
/// The curve of a ring's side in the plane of the mark, to the edge's parameter.
[[nodiscard]] Handle(Geom2d_Curve) flat_side(const ShapedContour& contour, const Ring& ring, std::size_t side);
/// Of its arc: clockwise about the corner.
[[nodiscard]] Handle(Geom2d_Curve) flat_arc(const geometry::InsetJoint& joint, double radius);

/// An edge from ring to ring.
struct Rise {
    enum class Kind { line, conic, fitted };
    Kind kind = Kind::line;
    TopoDS_Edge edge;
    double length = 0;       ///< line: its parameter runs from 0 to this; conic: the band's q; fitted: from 0 to 1
    Vec3 from, to;           ///< ends
    int pieces = 1;          ///< fitted: of degree 7, equally long
    std::vector<Vec3> poles; ///< fitted: in space
    std::vector<double> before, after; ///< fitted: t on the sides before and after
    double tolerance = 1e-7;
};
/// At one joint: of the side before, and of the one after.
struct Rises {
    Rise before, after; ///< the same edge, unless the sides part
};
/// nullopt where they cannot be fitted.
[[nodiscard]] std::optional<Rises> rises_at(const WallGround& ground, const ShapedContour& contour, std::size_t joint,
                                            const WallBand& band, const Ring& top, const Ring& foot);

} // namespace touchmark::imprint
