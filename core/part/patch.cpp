// SPDX-License-Identifier: MIT
#include "core/part/patch.h"

#include "core/part/vectors.h"

#include <Geom_Surface.hxx>
#include <TColStd_Array1OfReal.hxx>

#include <algorithm>
#include <cmath>

namespace touchmark::part {
namespace {

/// Edges may reach beyond the surface, or seem to: only what lies within its range.
template <class Fill> std::vector<double> spans(int count, const Fill& fill, double low, double high) {
    TColStd_Array1OfReal ends(1, count + 1);
    fill(ends);
    std::vector<double> out;
    for (const double end : ends)
        if (const double at = std::clamp(end, low, high); out.empty() || at > out.back()) out.push_back(at);
    return out;
}

/// Within every span, and its ends.
std::vector<double> places(const std::vector<double>& ends) {
    const int each = ends.size() > 33 ? 2 : ends.size() > 9 ? 4 : 8;
    std::vector<double> out;
    for (std::size_t i = 0; i + 1 < ends.size(); ++i)
        for (int k = 0; k < each; ++k)
            out.push_back(ends[i] + (ends[i + 1] - ends[i]) * k / each);
    out.push_back(ends.back());
    return out;
}

} // namespace

Patch::Patch(const BRepAdaptor_Surface& surface) : surface_(surface) {
    u_ = {surface.FirstUParameter(), surface.LastUParameter()};
    v_ = {surface.FirstVParameter(), surface.LastVParameter()};
    if (!is_finite()) return;
    constexpr double any = 1e300;
    double low_u = -any, high_u = any, low_v = -any, high_v = any;
    const Handle(Geom_Surface)& stored = surface.Surface().Surface();
    if (!stored->IsUPeriodic() && !stored->IsVPeriodic()) stored->Bounds(low_u, high_u, low_v, high_v);
    u_ = spans(
        surface.NbUIntervals(GeomAbs_CN), [&](auto& ends) { surface.UIntervals(ends, GeomAbs_CN); }, low_u, high_u);
    v_ = spans(
        surface.NbVIntervals(GeomAbs_CN), [&](auto& ends) { surface.VIntervals(ends, GeomAbs_CN); }, low_v, high_v);
}

bool Patch::is_finite() const {
    constexpr double far = 1e50;
    return std::abs(u_.front()) < far && std::abs(u_.back()) < far && std::abs(v_.front()) < far &&
           std::abs(v_.back()) < far && u_.front() < u_.back() && v_.front() < v_.back();
}

std::vector<PatchPoint> Patch::spread(int count) const {
    std::vector<PatchPoint> out;
    for (int i = 0; i < count; ++i)
        for (int k = 0; k < count; ++k)
            out.push_back(point(u_.front() + (u_.back() - u_.front()) * (i + 0.5) / count,
                                v_.front() + (v_.back() - v_.front()) * (k + 0.5) / count));
    return out;
}

std::vector<PatchPoint> Patch::dense() const {
    std::vector<PatchPoint> out;
    const std::vector<double> all_v = places(v_);
    for (const double u : places(u_))
        for (const double v : all_v)
            out.push_back(point(u, v));
    return out;
}

PatchPoint Patch::point(double u, double v) const {
    gp_Pnt p;
    gp_Vec du, dv;
    surface_.D1(u, v, p, du, dv);
    return {vec(p), vec(du), vec(dv)};
}

} // namespace touchmark::part
