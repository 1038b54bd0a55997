// SPDX-License-Identifier: MIT
#include "core/part/face_boundary.h"

#include <BRep_Tool.hxx>
#include <Geom2dAdaptor_Curve.hxx>
#include <Geom2d_Line.hxx>
#include <TColStd_Array1OfReal.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Iterator.hxx>

#include <algorithm>
#include <cmath>

namespace touchmark::part {
namespace {

class Sampler {
public:
    explicit Sampler(const Smoothness& smoothness) : smooth_(smoothness) {}

    void add(const Geom2dAdaptor_Curve& curve, double side) {
        const int count = curve.NbIntervals(GeomAbs_CN);
        TColStd_Array1OfReal ends(1, count + 1);
        curve.Intervals(ends, GeomAbs_CN);
        const int probes = curve.GetType() == GeomAbs_Line ? 1 : count > 8 ? 2 : 8; // short pieces hide little
        for (int i = 1; i <= count; ++i)
            add_interval(curve, ends(i), ends(i + 1), side, probes);
    }
    void add_line(const gp_Pnt2d& from, const gp_Pnt2d& to) {
        const gp_Vec2d way(from, to);
        if (way.Magnitude() < 1e-100) return;
        const Handle(Geom2d_Line) line = new Geom2d_Line(from, gp_Dir2d(way));
        add(Geom2dAdaptor_Curve(line, 0, way.Magnitude()), 1);
    }
    std::vector<BoundarySample> take() { return std::move(samples_); }

private:
    void add_interval(const Geom2dAdaptor_Curve& curve, double first, double last, double side, int probes) {
        splits_.clear();
        if (!smooth_.breaks_u.empty() || !smooth_.breaks_v.empty()) {
            gp_Pnt2d before = curve.Value(first), point;
            for (int i = 1; i <= probes; ++i, before = point) {
                const double from = first + (last - first) * (i - 1) / probes, to = first + (last - first) * i / probes;
                point = curve.Value(to);
                find_crossings(curve, {from, before.X()}, {to, point.X()}, smooth_.breaks_u, 1);
                find_crossings(curve, {from, before.Y()}, {to, point.Y()}, smooth_.breaks_v, 2);
            }
            std::ranges::sort(splits_);
        }
        const double tiny = 1e-9 * (last - first);
        double from = first;
        for (const double split : splits_)
            if (split > from + tiny && split < last - tiny) {
                add_smooth(curve, from, split, side, probes);
                from = split;
            }
        add_smooth(curve, from, last, side, probes);
    }

    struct Probe {
        double at, value;
    };
    /// Where the curve's coordinate takes the value of a break between two probes: regula falsi, halved when it stalls.
    void find_crossings(const Geom2dAdaptor_Curve& curve, Probe from, Probe to, std::span<const double> breaks,
                        int coordinate) {
        const auto [low, high] = std::minmax(from.value, to.value);
        if (low == high) return;
        for (auto it = std::ranges::lower_bound(breaks, low); it != breaks.end() && *it <= high; ++it) {
            Probe a = from, b = to;
            for (int round = 0; round < 60 && std::abs(b.at - a.at) > 1e-12 * std::abs(to.at - from.at); ++round) {
                const double straight = a.at + (b.at - a.at) * (*it - a.value) / (b.value - a.value);
                const double at = round % 3 == 2 ? (a.at + b.at) / 2 : straight;
                const double value = curve.Value(at).Coord(coordinate);
                if (value == *it) {
                    a.at = b.at = at;
                    break;
                }
                ((value < *it) == (from.value < *it) ? a : b) = {at, value};
            }
            splits_.push_back((a.at + b.at) / 2);
        }
    }

    /// In equal pieces, none of which goes farther than the longest step or turns much: a rational half circle, one
    /// smooth piece, is no polynomial.
    void add_smooth(const Geom2dAdaptor_Curve& curve, double first, double last, double side, int probes) {
        double way_u = 0, way_v = 0, turn = 0;
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
        const double steps = std::max({1.0, way_u / smooth_.longest_u, way_v / smooth_.longest_v, turn / 0.8});
        const int pieces = static_cast<int>(std::min(std::ceil(steps), 4096.0));
        const double half = (last - first) / pieces / 2;
        const auto nodes = is_easy(way_u, way_v, turn, curve) ? std::span<const GaussNode>(gauss_4) : gauss_8;
        for (int piece = 0; piece < pieces; ++piece)
            for (const GaussNode& node : nodes) {
                curve.D1(first + half * (2 * piece + 1 + node.at), point, along);
                const double weight = node.weight * half * side;
                samples_.push_back({point.X(), point.Y(), along.X() * weight, along.Y() * weight});
            }
    }

    [[nodiscard]] bool is_easy(double way_u, double way_v, double turn, const Geom2dAdaptor_Curve& curve) const {
        if (smooth_.easy_u <= 0 || smooth_.easy_v <= 0) return false;
        const bool linear = curve.GetType() == GeomAbs_Line ||
                            (curve.GetType() == GeomAbs_BSplineCurve && curve.Degree() == 1 && !curve.IsRational());
        if (linear && std::min(way_u / smooth_.easy_u, way_v / smooth_.easy_v) < 1e-9) return true;
        return turn < 0.2 && way_u <= smooth_.easy_u && way_v <= smooth_.easy_v;
    }

    Smoothness smooth_;
    std::vector<double> splits_;
    std::vector<BoundarySample> samples_;
};

/// A face without wires covers its whole surface.
void add_rectangle(Sampler& sampler, const BRepAdaptor_Surface& surface) {
    const double u[] = {surface.FirstUParameter(), surface.LastUParameter()};
    const double v[] = {surface.FirstVParameter(), surface.LastVParameter()};
    const gp_Pnt2d corners[] = {{u[0], v[0]}, {u[1], v[0]}, {u[1], v[1]}, {u[0], v[1]}};
    for (int i = 0; i < 4; ++i)
        sampler.add_line(corners[i], corners[(i + 1) % 4]);
}

struct Ends {
    gp_Pnt2d begin, end;
};

/// From the end of each curve of a wire to the nearest begin that none has come to yet; mostly the next one's.
class Gaps {
public:
    Gaps(Sampler& sampler, const BRepAdaptor_Surface& surface) : sampler_(sampler), surface_(surface) {}

    void bridge(const std::vector<Ends>& curves) {
        taken_.assign(curves.size(), 0);
        for (std::size_t i = 0; i < curves.size(); ++i) {
            const std::size_t next = successor(curves, i);
            taken_[next] = 1;
            const gp_Pnt2d &from = curves[i].end, &to = curves[next].begin;
            if (!winds_round(from, to)) sampler_.add_line(from, to);
        }
    }

private:
    [[nodiscard]] std::size_t successor(const std::vector<Ends>& curves, std::size_t of) const {
        const auto gap = [&](std::size_t to) { return curves[of].end.SquareDistance(curves[to].begin); };
        std::size_t nearest = (of + 1) % curves.size();
        const double near_enough = 1e-6 * curves[of].end.SquareDistance(curves[of].begin);
        if (!taken_[nearest] && gap(nearest) <= near_enough) return nearest;
        for (std::size_t to = 0; to < curves.size(); ++to)
            if (!taken_[to] && (taken_[nearest] || gap(to) < gap(nearest))) nearest = to;
        return nearest;
    }
    /// A wire all round a surface without a seam ends one period further on, where it is closed; not so at a pole,
    /// where the line between is the boundary.
    [[nodiscard]] bool winds_round(const gp_Pnt2d& from, const gp_Pnt2d& to) const {
        gp_Pnt at;
        gp_Vec along_u, along_v;
        surface_.D1(from.X(), from.Y(), at, along_u, along_v);
        const auto whole = [&](double way, double period, const gp_Vec& along, const gp_Vec& across) {
            return std::abs(std::abs(way) - period) < 0.1 * period &&
                   along.Magnitude() * period > 1e-3 * across.Magnitude();
        };
        return (surface_.IsUPeriodic() && whole(to.X() - from.X(), surface_.UPeriod(), along_u, along_v)) ||
               (surface_.IsVPeriodic() && whole(to.Y() - from.Y(), surface_.VPeriod(), along_v, along_u));
    }

    Sampler& sampler_;
    const BRepAdaptor_Surface& surface_;
    std::vector<char> taken_;
};

} // namespace

std::optional<std::vector<BoundarySample>> boundary_samples(const TopoDS_Face& face, const BRepAdaptor_Surface& surface,
                                                            const Smoothness& smoothness) {
    Sampler sampler(smoothness);
    Gaps gaps(sampler, surface);
    const TopoDS_Face forward = TopoDS::Face(face.Oriented(TopAbs_FORWARD));
    bool bounded = false;
    std::vector<Ends> curves;
    for (TopExp_Explorer wire(forward, TopAbs_WIRE); wire.More(); wire.Next()) {
        curves.clear();
        for (TopoDS_Iterator item(wire.Current()); item.More(); item.Next()) {
            const TopoDS_Edge& edge = TopoDS::Edge(item.Value());
            if (edge.Orientation() != TopAbs_FORWARD && edge.Orientation() != TopAbs_REVERSED) continue;
            bounded = true;
            double first = 0, last = 0;
            const Handle(Geom2d_Curve) curve = BRep_Tool::CurveOnSurface(edge, forward, first, last);
            if (curve.IsNull() || !(last > first)) return std::nullopt;
            const bool reversed = edge.Orientation() == TopAbs_REVERSED;
            sampler.add(Geom2dAdaptor_Curve(curve, first, last), reversed ? -1 : 1);
            curves.push_back({curve->Value(reversed ? last : first), curve->Value(reversed ? first : last)});
        }
        if (wire.Current().Orientation() == TopAbs_REVERSED) std::ranges::reverse(curves); // the order they follow in
        gaps.bridge(curves);
    }
    if (!bounded) add_rectangle(sampler, surface);
    return sampler.take();
}

} // namespace touchmark::part
