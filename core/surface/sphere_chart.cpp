// SPDX-License-Identifier: MIT
#include "core/part/vectors.h"
#include "core/surface/chart.h"

#include <ElSLib.hxx>
#include <Geom_SphericalSurface.hxx>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace touchmark::surface {
namespace {

constexpr double turn = 2 * std::numbers::pi;

/// Great circles through the anchor, or parallels of its normal.
class SphereChart final : public Chart {
public:
    SphereChart(const std::shared_ptr<const CurvedFace>& face, const Anchorage& anchorage, Laying laying,
                const gp_Sphere& sphere)
        : Chart(face, anchorage), laying_(laying), sphere_(sphere), back_(face->placing.Inverted()),
          radius_(sphere.Radius() * std::abs(face->placing.ScaleFactor())) {
        const Vec3 centre = part::vec(sphere.Location().Transformed(face->placing));
        centre_ = centre;
        out_ = normalised(anchorage.frame.origin - centre);
        // Where a circle about the anchor has half its length in the mark's mm.
        double reach = laying == Laying::wrap ? 1.89 * radius_ : 0.92 * radius_;
        for (const Vec3& pole : face->poles) {
            const double angle = std::acos(std::clamp(dot(normalised(pole - centre), out_), -1.0, 1.0));
            const double clear = std::max(0.0, angle - 0.01) * radius_;
            reach = std::min(reach, laying == Laying::wrap || angle > std::numbers::pi / 2
                                        ? std::max(clear, 1e-3)
                                        : std::max(1e-3, std::sin(clear / radius_) * radius_));
        }
        constexpr std::size_t rays = 64;
        end_at(std::vector<double>(rays, reach));
    }

protected:
    [[nodiscard]] Vec2 away(Vec2 q) const override {
        const Vec3 on_plane = anchorage().frame.x * q.x + anchorage().frame.y * q.y;
        const double reach = length(q);
        if (reach == 0) return {};
        Vec3 from_centre = out_ * radius_;
        if (laying_ == Laying::wrap)
            from_centre =
                out_ * (radius_ * std::cos(reach / radius_)) + on_plane * (radius_ * std::sin(reach / radius_) / reach);
        else // beyond the sphere's edge: on it
            from_centre =
                normalised(out_ * std::sqrt(std::max(0.0, radius_ * radius_ - reach * reach)) + on_plane) * radius_;
        double u, v;
        ElSLib::SphereParameters(sphere_.Position(), sphere_.Radius(),
                                 part::point(centre_ + from_centre).Transformed(back_), u, v);
        const double off = u - anchorage().uv.x;
        return {off - turn * std::round(off / turn), v - anchorage().uv.y};
    }

    [[nodiscard]] std::optional<Vec2> back(Vec2 uv, Vec2) const override {
        const gp_Pnt own =
            ElSLib::SphereValue(anchorage().uv.x + uv.x, anchorage().uv.y + uv.y, sphere_.Position(), sphere_.Radius());
        const Vec3 away = part::vec(own.Transformed(face().placing)) - centre_;
        const Vec2 flat{dot(away, anchorage().frame.x), dot(away, anchorage().frame.y)};
        const double high = dot(away, out_), across = length(flat);
        if (laying_ == Laying::project) return high > 0 ? std::optional(flat) : std::nullopt;
        if (across < 1e-9 * radius_) return high > 0 ? std::optional(flat) : std::nullopt;
        return flat * (std::atan2(across, high) * radius_ / across);
    }

private:
    Laying laying_;
    gp_Sphere sphere_;
    gp_Trsf back_;
    double radius_;
    Vec3 centre_, out_;
};

} // namespace

ChartPtr sphere_chart(const std::shared_ptr<const CurvedFace>& face, const Anchorage& anchorage, Laying laying) {
    const auto sphere = Handle(Geom_SphericalSurface)::DownCast(face->surface);
    if (sphere.IsNull()) return nullptr;
    return std::make_shared<const SphereChart>(face, anchorage, laying, sphere->Sphere());
}

} // namespace touchmark::surface
