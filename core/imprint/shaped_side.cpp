// SPDX-License-Identifier: MIT
#include "core/imprint/shaped_side.h"

#include "core/part/vectors.h"

#include <Geom2d_BSplineCurve.hxx>
#include <Geom2d_Line.hxx>
#include <Geom_BSplineSurface.hxx>
#include <Geom_BezierCurve.hxx>
#include <Geom_CylindricalSurface.hxx>
#include <Geom_Plane.hxx>
#include <Geom_SurfaceOfLinearExtrusion.hxx>
#include <TColStd_Array1OfInteger.hxx>
#include <TColStd_Array1OfReal.hxx>
#include <TColgp_Array1OfPnt.hxx>
#include <TColgp_Array1OfPnt2d.hxx>
#include <TColgp_Array2OfPnt.hxx>

#include <cmath>

namespace touchmark::imprint {
namespace {

using geometry::InsetSide;

Handle(Geom2d_Curve) line(gp_Pnt2d from, gp_Dir2d way) {
    return new Geom2d_Line(from, way);
}

/// Of pieces of degree 7, over [0, 1] or a range of its own.
Handle(Geom2d_Curve) septic(const std::vector<Vec2>& from, int pieces, double low = 0, double high = 1) {
    TColgp_Array1OfPnt2d poles(1, static_cast<int>(from.size()));
    for (std::size_t k = 0; k < from.size(); ++k)
        poles(static_cast<int>(k) + 1) = gp_Pnt2d(from[k].x, from[k].y);
    TColStd_Array1OfReal knots(1, pieces + 1);
    TColStd_Array1OfInteger folds(1, pieces + 1);
    knots_of(pieces, low, high, knots, folds);
    return new Geom2d_BSplineCurve(poles, knots, folds, static_cast<int>(Septic::count) - 1);
}

/// Straight up u = const from v_from to v_to while the parameter runs from 0 to `length`.
Handle(Geom2d_Curve) up(double u, double v_from, double v_to, double length) {
    constexpr double same = 1e-12;
    if (std::abs(v_to - v_from - length) <= same * length) return line({u, v_from}, {0, 1});
    TColgp_Array1OfPnt2d poles(1, 2);
    poles(1) = {u, v_from}, poles(2) = {u, v_to};
    TColStd_Array1OfReal knots(1, 2);
    TColStd_Array1OfInteger folds(1, 2);
    knots(1) = 0, knots(2) = length;
    folds.Init(2);
    return new Geom2d_BSplineCurve(poles, knots, folds, 1);
}

/// Where along the band's q the k-th of n poles lies of what is linear in it.
double share(const WallBand& band, std::size_t k, std::size_t count) {
    return band.q_from + (band.q_to - band.q_from) * static_cast<double>(k) / static_cast<double>(count - 1);
}

class PlaneWall : public SideWall {
public:
    PlaneWall(const WallGround& ground, const InsetSide& side, const WallBand& band) : ground_(ground), side_(side) {
        const Vec3 from = ground.at(side.curve.start(), 0), to = ground.at(side.curve.end(), 0);
        x_ = normalised(to - from);
        const Vec2 along = side.curve.end() - side.curve.start(),
                   inward = Vec2{-along.y, along.x} * (1 / length(along));
        const auto down = [&](const WallLevel& at) {
            return ground.at(side.curve.start() + inward * at.inset, at.depth);
        };
        origin_ = down(band.from);
        y_ = normalised(down(band.to) - origin_);
        surface = new Geom_Plane(gp_Ax3(part::point(origin_), part::direction(cross(x_, y_)), part::direction(x_)));
    }
    [[nodiscard]] Handle(Geom2d_Curve) level(const WallLevel& level, double, double t_from) const override {
        return line(seen(ground_.at(side_.at(t_from, level.inset), level.depth)), {1, 0});
    }
    [[nodiscard]] Handle(Geom2d_Curve) rise(const Rise& rise, bool) const override {
        if (rise.kind == Rise::Kind::line) {
            const gp_Pnt2d from = seen(rise.from), to = seen(rise.to);
            return line(from, gp_Dir2d(gp_Vec2d(from, to)));
        }
        std::vector<Vec2> poles;
        for (const Vec3& pole : rise.poles)
            poles.push_back({seen(pole).X(), seen(pole).Y()});
        return septic(poles, rise.pieces);
    }

private:
    [[nodiscard]] gp_Pnt2d seen(const Vec3& p) const { return {dot(p - origin_, x_), dot(p - origin_, y_)}; }
    const WallGround& ground_;
    const InsetSide& side_;
    Vec3 origin_, x_, y_;
};

/// Of a rounding along a line, seen from inside: u is the angle φ, v runs along the side.
class CylinderWall : public SideWall {
public:
    CylinderWall(const WallGround& ground, const InsetSide& side, const WallBand& band) : side_(side), band_(band) {
        const Vec2 along = side.curve.end() - side.curve.start();
        size_ = length(along);
        const Vec2 inward = Vec2{-along.y, along.x} * (1 / size_);
        origin_ = ground.at(side.curve.start() + inward * band.centre.inset, band.centre.depth);
        along_ = normalised(ground.along(along));
        // Right-handed for a cut: φ turns from the wall down to the floor.
        surface = new Geom_CylindricalSurface(
            gp_Ax3(part::point(origin_), part::direction(along_), part::direction(-ground.along(inward))), band.radius);
        orientation = TopAbs_REVERSED;
    }
    [[nodiscard]] Handle(Geom2d_Curve) level(const WallLevel& level, double q, double t_from) const override {
        const double shift = side_.shift_start * (1 - t_from) + side_.shift_end * t_from;
        return line({q, size_ * t_from + shift * level.inset}, {0, 1});
    }
    [[nodiscard]] Handle(Geom2d_Curve) rise(const Rise& rise, bool at_end) const override {
        std::vector<Vec2> poles;
        if (rise.kind == Rise::Kind::conic) {
            const double from = at_end ? size_ : 0, shift = at_end ? side_.shift_end : side_.shift_start;
            if (shift == 0) return line({0, from}, {1, 0});
            SepticPoles<double> along{};
            for (std::size_t k = 0; k < along.size(); ++k)
                along[k] = from + shift * band_.at(band_.q_from + (band_.q_to - band_.q_from) * Septic::node(k)).inset;
            along = poles_through(along);
            for (std::size_t k = 0; k < along.size(); ++k)
                poles.push_back({share(band_, k, along.size()), along[k]});
            return septic(poles, 1, band_.q_from, band_.q_to);
        }
        for (std::size_t k = 0; k < rise.poles.size(); ++k)
            poles.push_back({share(band_, k, rise.poles.size()), dot(rise.poles[k] - origin_, along_)});
        return septic(poles, rise.pieces);
    }

private:
    const InsetSide& side_;
    const WallBand& band_;
    double size_ = 0;
    Vec3 origin_, along_;
};

/// Along a curve: u is its t, v the band's q.
class BentWall : public SideWall {
public:
    BentWall(const WallGround& ground, const InsetSide& side, const SideFit& fit, const WallBand& band) : band_(band) {
        if (band.upright()) {
            TColgp_Array1OfPnt poles(1, side.curve.degree + 1);
            for (int k = 0; k <= side.curve.degree; ++k)
                poles(k + 1) = part::point(ground.at(side.curve.points[static_cast<std::size_t>(k)], band.from.depth));
            surface = new Geom_SurfaceOfLinearExtrusion(new Geom_BezierCurve(poles),
                                                        part::direction(ground.frame.z * ground.way));
        } else {
            surface = spline(ground, fit, band);
        }
    }
    [[nodiscard]] Handle(Geom2d_Curve) level(const WallLevel&, double q, double) const override {
        return line({0, q}, {1, 0});
    }
    [[nodiscard]] Handle(Geom2d_Curve) rise(const Rise& rise, bool at_end) const override {
        const double u = at_end ? 1 : 0;
        if (rise.kind == Rise::Kind::line) return up(u, band_.q_from, band_.q_to, rise.length);
        if (rise.kind == Rise::Kind::conic) return line({u, 0}, {0, 1});
        const std::vector<double>& t = at_end ? rise.before : rise.after;
        std::vector<Vec2> poles;
        for (std::size_t k = 0; k < t.size(); ++k)
            poles.push_back({t[k], share(band_, k, t.size())});
        return septic(poles, rise.pieces);
    }

private:
    static Handle(Geom_Surface) spline(const WallGround& ground, const SideFit& fit, const WallBand& band) {
        std::vector<WallLevel> rows{band.from, band.to};
        if (band.round) {
            SepticPoles<double> depths{}, insets{};
            for (std::size_t k = 0; k < Septic::count; ++k) {
                const WallLevel at = band.at(band.q_from + (band.q_to - band.q_from) * Septic::node(k));
                depths[k] = at.depth;
                insets[k] = at.inset;
            }
            depths.back() = band.to.depth, insets.back() = band.to.inset;
            depths.front() = band.from.depth, insets.front() = band.from.inset;
            depths = poles_through(depths);
            insets = poles_through(insets);
            rows.clear();
            for (std::size_t k = 0; k < Septic::count; ++k)
                rows.push_back({depths[k], insets[k]});
        }
        TColgp_Array2OfPnt poles(1, static_cast<int>(fit.places.size()), 1, static_cast<int>(rows.size()));
        for (std::size_t i = 0; i < fit.places.size(); ++i)
            for (std::size_t j = 0; j < rows.size(); ++j)
                poles(static_cast<int>(i) + 1, static_cast<int>(j) + 1) =
                    part::point(ground.at(fit.places[i] + fit.ways[i] * rows[j].inset, rows[j].depth));
        constexpr int degree = 7;
        TColStd_Array1OfReal u(1, fit.pieces + 1), v(1, 2);
        TColStd_Array1OfInteger u_folds(1, fit.pieces + 1), v_folds(1, 2);
        knots_of(fit.pieces, 0, 1, u, u_folds);
        v(1) = band.q_from, v(2) = band.q_to;
        v_folds.Init(static_cast<int>(rows.size()));
        return new Geom_BSplineSurface(poles, u, v, u_folds, v_folds, degree, static_cast<int>(rows.size()) - 1);
    }

    const WallBand& band_;
};

} // namespace

std::unique_ptr<SideWall> side_wall(const WallGround& ground, const InsetSide& side, const SideFit& fit,
                                    const WallBand& band) {
    if (!side.is_line()) return std::make_unique<BentWall>(ground, side, fit, band);
    if (band.round) return std::make_unique<CylinderWall>(ground, side, band);
    return std::make_unique<PlaneWall>(ground, side, band);
}

} // namespace touchmark::imprint
