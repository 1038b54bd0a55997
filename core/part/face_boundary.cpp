// SPDX-License-Identifier: MIT
#include "core/part/face_boundary.h"

#include <BRep_Tool.hxx>
#include <Geom2dAdaptor_Curve.hxx>
#include <Geom2d_Line.hxx>
#include <TColStd_Array1OfReal.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Edge.hxx>

#include <algorithm>
#include <cmath>

namespace touchmark::part {
namespace {

class Sampler {
public:
    Sampler(double longest_u, double longest_v) : longest_u_(longest_u), longest_v_(longest_v) {}

    void add(const Geom2dAdaptor_Curve& curve, double side) {
        const int count = curve.NbIntervals(GeomAbs_CN);
        TColStd_Array1OfReal ends(1, count + 1);
        curve.Intervals(ends, GeomAbs_CN);
        for (int i = 1; i <= count; ++i)
            add_interval(curve, ends(i), ends(i + 1), side);
    }
    std::vector<BoundarySample> take() { return std::move(samples_); }

private:
    /// The interval in equal pieces, none of which goes farther than the longest step or turns much: a rational half
    /// circle, one smooth piece, is no polynomial.
    void add_interval(const Geom2dAdaptor_Curve& curve, double first, double last, double side) {
        const bool line = curve.GetType() == GeomAbs_Line;
        const int probes = line ? 1 : 8;
        double steps = 1, way_u = 0, way_v = 0, turn = 0;
        gp_Pnt2d before, point;
        gp_Vec2d before_along, along;
        curve.D1(first, before, before_along);
        for (int i = 1; i <= probes; ++i, before = point, before_along = along) {
            curve.D1(first + (last - first) * i / probes, point, along);
            way_u += std::abs(point.X() - before.X());
            way_v += std::abs(point.Y() - before.Y());
            if (along.SquareMagnitude() > 0 && before_along.SquareMagnitude() > 0)
                turn += std::abs(before_along.Angle(along));
        }
        steps = std::max({1.0, way_u / longest_u_, way_v / longest_v_, turn / 0.8});
        const int pieces = static_cast<int>(std::min(std::ceil(steps), 4096.0));
        const double half = (last - first) / pieces / 2;
        for (int piece = 0; piece < pieces; ++piece)
            for (const GaussNode& node : gauss_8) {
                curve.D1(first + half * (2 * piece + 1 + node.at), point, along);
                const double weight = node.weight * half * side;
                samples_.push_back({point.X(), point.Y(), along.X() * weight, along.Y() * weight});
            }
    }

    double longest_u_, longest_v_;
    std::vector<BoundarySample> samples_;
};

/// A face without wires covers its whole surface.
void add_rectangle(Sampler& sampler, const BRepAdaptor_Surface& surface) {
    const double u[] = {surface.FirstUParameter(), surface.LastUParameter()};
    const double v[] = {surface.FirstVParameter(), surface.LastVParameter()};
    const gp_Pnt2d corners[] = {{u[0], v[0]}, {u[1], v[0]}, {u[1], v[1]}, {u[0], v[1]}};
    for (int i = 0; i < 4; ++i) {
        const gp_Vec2d side(corners[i], corners[(i + 1) % 4]);
        const Handle(Geom2d_Line) line = new Geom2d_Line(corners[i], gp_Dir2d(side));
        sampler.add(Geom2dAdaptor_Curve(line, 0, side.Magnitude()), 1);
    }
}

} // namespace

std::optional<std::vector<BoundarySample>> boundary_samples(const TopoDS_Face& face, const BRepAdaptor_Surface& surface,
                                                            double longest_u, double longest_v) {
    Sampler sampler(longest_u, longest_v);
    const TopoDS_Face forward = TopoDS::Face(face.Oriented(TopAbs_FORWARD));
    bool bounded = false;
    for (TopExp_Explorer item(forward, TopAbs_EDGE); item.More(); item.Next()) {
        const TopoDS_Edge& edge = TopoDS::Edge(item.Current());
        if (edge.Orientation() != TopAbs_FORWARD && edge.Orientation() != TopAbs_REVERSED) continue;
        bounded = true;
        double first = 0, last = 0;
        const Handle(Geom2d_Curve) curve = BRep_Tool::CurveOnSurface(edge, forward, first, last);
        if (curve.IsNull() || !(last > first)) return std::nullopt;
        sampler.add(Geom2dAdaptor_Curve(curve, first, last), edge.Orientation() == TopAbs_REVERSED ? -1 : 1);
    }
    if (!bounded) add_rectangle(sampler, surface);
    return sampler.take();
}

} // namespace touchmark::part
