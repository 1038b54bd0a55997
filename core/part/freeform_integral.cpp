// SPDX-License-Identifier: MIT
#include "core/part/freeform_integral.h"

#include "core/part/face_boundary.h"
#include "core/part/vectors.h"

#include <Geom_BSplineSurface.hxx>
#include <TColStd_Array1OfReal.hxx>

#include <algorithm>
#include <cmath>

// As in face_integral.cpp, but F, the integral along one parameter from the surface's edge to the boundary, is taken by
// quadrature as well.

namespace touchmark::part {
namespace {

double angle(const gp_Vec& a, const gp_Vec& b) {
    return a.SquareMagnitude() > 0 && b.SquareMagnitude() > 0 ? a.Angle(b) : 0;
}

/// How far the surface's line along one parameter turns between `from` and `to`, or its normal if that turns more, in
/// radians.
double turning(const BRepAdaptor_Surface& surface, bool in_u, double from, double to, double across) {
    constexpr int probes = 4;
    double turn = 0, tilt = 0;
    gp_Pnt point;
    gp_Vec du, dv, along_before, normal_before;
    for (int i = 0; i <= probes; ++i) {
        const double at = from + (to - from) * i / probes;
        in_u ? surface.D1(at, across, point, du, dv) : surface.D1(across, at, point, du, dv);
        const gp_Vec &along = in_u ? du : dv, normal = du.Crossed(dv);
        if (i > 0) {
            turn += angle(along_before, along);
            tilt += angle(normal_before, normal);
        }
        along_before = along;
        normal_before = normal;
    }
    return std::max(turn, tilt);
}

/// Whether a piece of the surface is, in one parameter, a polynomial of so low a degree that it need not be halved.
bool is_low(const BRepAdaptor_Surface& surface, bool in_u) {
    if (surface.GetType() != GeomAbs_BSplineSurface) return false;
    const Geom_BSplineSurface& spline = *surface.Surface().BSpline();
    const int degree = in_u ? spline.UDegree() : spline.VDegree();
    if (degree > 2) return false;
    if (!spline.IsURational() && !spline.IsVRational()) return true;
    const int rows = in_u ? spline.NbVPoles() : spline.NbUPoles();
    const int poles = in_u ? spline.NbUPoles() : spline.NbVPoles();
    for (int row = 1; row <= rows; ++row)
        for (int i = 2; i <= poles; ++i) {
            const double weight = in_u ? spline.Weight(i, row) : spline.Weight(row, i);
            const double before = in_u ? spline.Weight(i - 1, row) : spline.Weight(row, i - 1);
            if (std::abs(weight - before) > 1e-9 * before) return false;
        }
    return true;
}

/// The knots of a B-spline surface that lie in the face's range, with both ends of that. OpenCASCADE's own intervals of
/// the surface leave knots out where the line it looks at is collapsed to a pole.
std::vector<double> knots_between(const Geom_BSplineSurface& spline, bool in_u, double first, double last) {
    const bool periodic = in_u ? spline.IsUPeriodic() : spline.IsVPeriodic();
    const int count = in_u ? spline.NbUKnots() : spline.NbVKnots();
    const auto knot = [&](int i) { return in_u ? spline.UKnot(i) : spline.VKnot(i); };
    const double period = knot(count) - knot(1), tiny = 1e-9 * (last - first);
    const double from = periodic ? std::floor((first - knot(1)) / period) * period : 0;
    std::vector<double> ends{first};
    for (double shift = from; shift + knot(1) < last; shift += period) {
        for (int i = 1; i <= count; ++i)
            if (const double at = knot(i) + shift; at > ends.back() + tiny && at < last - tiny) ends.push_back(at);
        if (!periodic) break;
    }
    ends.push_back(last);
    return ends;
}

/// The ends of the pieces within which the surface is smooth, in one parameter.
std::vector<double> smooth_pieces(const BRepAdaptor_Surface& surface, bool in_u) {
    const double first = in_u ? surface.FirstUParameter() : surface.FirstVParameter();
    const double last = in_u ? surface.LastUParameter() : surface.LastVParameter();
    if (surface.GetType() == GeomAbs_BSplineSurface)
        return knots_between(*surface.Surface().BSpline(), in_u, first, last);
    const int count = in_u ? surface.NbUIntervals(GeomAbs_CN) : surface.NbVIntervals(GeomAbs_CN);
    TColStd_Array1OfReal ends(1, count + 1);
    in_u ? surface.UIntervals(ends, GeomAbs_CN) : surface.VIntervals(ends, GeomAbs_CN);
    return {ends.begin(), ends.end()};
}

/// The ends of the pieces within which the surface is smooth and turns little, in one parameter.
std::vector<double> spans(const BRepAdaptor_Surface& surface, bool in_u) {
    const std::vector<double> ends = smooth_pieces(surface, in_u);
    const double low = in_u ? surface.FirstVParameter() : surface.FirstUParameter();
    const double high = in_u ? surface.LastVParameter() : surface.LastUParameter();
    const double fewest = ends.size() < 4 && !is_low(surface, in_u) ? 2 : 1;
    std::vector<double> out{ends.front()};
    for (std::size_t i = 0; i + 1 < ends.size(); ++i) {
        double turn = 0;
        for (const double across : {0.1, 0.5, 0.9})
            turn = std::max(turn, turning(surface, in_u, ends[i], ends[i + 1], low + (high - low) * across));
        const int pieces = static_cast<int>(std::clamp(std::ceil(turn / 0.8), fewest, 64.0));
        for (int piece = 1; piece <= pieces; ++piece)
            out.push_back(ends[i] + (ends[i + 1] - ends[i]) * piece / pieces);
    }
    return out;
}

std::size_t span_of(const std::vector<double>& ends, double at) {
    const auto above = std::upper_bound(ends.begin() + 1, ends.end() - 1, at);
    return static_cast<std::size_t>(above - ends.begin()) - 1;
}

/// The inner integral runs along `inner` from the surface's edge to the boundary, the outer one along the other
/// parameter. Points are taken cell by cell of the surface's spans, for the evaluator keeps the last cell in a form
/// that is quick.
class Freeform {
public:
    Freeform(const BRepAdaptor_Surface& surface, const Vec3& about, const std::vector<double>& inner,
             const std::vector<double>& outer, bool inner_is_u)
        : surface_(surface), about_(about), inner_(inner), outer_(outer), inner_is_u_(inner_is_u) {}

    SurfaceSum run(const std::vector<BoundarySample>& boundary) {
        std::vector<std::vector<Ray>> rows(outer_.size() - 1);
        for (const BoundarySample& sample : boundary) {
            const Ray ray = inner_is_u_ ? Ray{sample.v, sample.u, sample.dv} : Ray{sample.u, sample.v, -sample.du};
            if (ray.weight != 0) rows[span_of(outer_, ray.at)].push_back(ray);
        }
        SurfaceSum sum;
        for (const auto& row : rows)
            for (std::size_t cell = 0; cell + 1 < inner_.size(); ++cell)
                for (const Ray& ray : row)
                    add(ray, cell, sum);
        return sum;
    }

private:
    struct Ray {
        double at, end, weight;
    };
    void add(const Ray& ray, std::size_t cell, SurfaceSum& sum) const {
        const double from = inner_[cell],
                     to = cell + 2 == inner_.size() ? ray.end : std::min(ray.end, inner_[cell + 1]);
        if (cell == 0 ? to == from : to <= from) return; // a boundary may lie a rounding error outside
        const double half = (to - from) / 2;
        for (const GaussNode& node : gauss_4)
            sum.add(ray.weight * half * node.weight, at(from + half * (1 + node.at), ray.at));
    }
    [[nodiscard]] SurfaceSum at(double inner, double outer) const {
        gp_Pnt p;
        gp_Vec du, dv;
        inner_is_u_ ? surface_.D1(inner, outer, p, du, dv) : surface_.D1(outer, inner, p, du, dv);
        const Vec3 normal = cross(vec(du), vec(dv)), from_reference = vec(p) - about_;
        const double area = length(normal);
        return {area, dot(from_reference, normal), from_reference * area};
    }

    const BRepAdaptor_Surface& surface_;
    Vec3 about_;
    const std::vector<double>&inner_, &outer_;
    bool inner_is_u_;
};

SurfaceSum integrate_over(const BRepAdaptor_Surface& surface, const std::vector<double>& u,
                          const std::vector<double>& v, const std::vector<BoundarySample>& boundary,
                          const Vec3& about) {
    // Edges along the inner parameter cost nothing: take the direction with less to do.
    std::size_t along_u = 0, along_v = 0;
    for (const BoundarySample& sample : boundary) {
        along_u += sample.dv != 0 ? u.size() : 0;
        along_v += sample.du != 0 ? v.size() : 0;
    }
    return along_u <= along_v ? Freeform(surface, about, u, v, true).run(boundary)
                              : Freeform(surface, about, v, u, false).run(boundary);
}

bool has_high_degree(const BRepAdaptor_Surface& surface) {
    return surface.GetType() == GeomAbs_BSplineSurface && std::max(surface.UDegree(), surface.VDegree()) > 3;
}

} // namespace

std::optional<SurfaceSum> integrate_freeform(const TopoDS_Face& face, const BRepAdaptor_Surface& surface,
                                             const Vec3& about) {
    const std::vector<double> u = spans(surface, true), v = spans(surface, false);
    const double easy = has_high_degree(surface) ? 0 : 0.25; // of the range
    Smoothness smoothness{.breaks_u = u, .breaks_v = v};
    smoothness.easy_u = easy * (u.back() - u.front());
    smoothness.easy_v = easy * (v.back() - v.front());
    const auto boundary = boundary_samples(face, surface, smoothness);
    if (!boundary) return std::nullopt;
    return integrate_over(surface, u, v, *boundary, about);
}

} // namespace touchmark::part
