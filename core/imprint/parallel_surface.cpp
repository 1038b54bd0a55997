// SPDX-License-Identifier: MIT
#include "core/imprint/parallel_surface.h"

#include "core/imprint/check.h"
#include "core/imprint/interpolation.h"
#include "core/part/vectors.h"

#include <Geom_BSplineSurface.hxx>
#include <Geom_OffsetSurface.hxx>
#include <Geom_SphericalSurface.hxx>
#include <Geom_ToroidalSurface.hxx>
#include <Standard_Failure.hxx>
#include <TColStd_Array1OfInteger.hxx>
#include <TColStd_Array1OfReal.hxx>
#include <TColgp_Array2OfPnt.hxx>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace touchmark::imprint {
namespace {

constexpr std::size_t degree = 7;
using Septic = Interpolation<degree>;
constexpr std::size_t count = Septic::count;

/// Pieces that meet where the surface's do, each by interpolation.
class Fit {
public:
    Fit(const Site& site, double height, const Box2& box)
        : surface_(site.chart->face(), gp_Trsf()),
          height_(height / std::abs(site.chart->face().location.Transformation().ScaleFactor())) {
        constexpr int most = 32;
        for (int parts = 1; parts <= most; parts *= 2) {
            constexpr double hair = 1e-6; // of the range
            us_ = grid_lines(box.low.x, box.high.x, site.chart->face().breaks_u, parts, hair * box.width());
            vs_ = grid_lines(box.low.y, box.high.y, site.chart->face().breaks_v, parts, hair * box.height());
            if (build() || parts == most) break;
        }
    }
    [[nodiscard]] Handle(Geom_Surface) surface() const {
        const auto knots = [](const std::vector<double>& at) {
            TColStd_Array1OfReal all(1, static_cast<int>(at.size()));
            for (std::size_t i = 0; i < at.size(); ++i)
                all(static_cast<int>(i) + 1) = at[i];
            return all;
        };
        const auto folds = [](const std::vector<double>& at) {
            TColStd_Array1OfInteger all(1, static_cast<int>(at.size()));
            all.Init(degree);
            all(1) = all(all.Upper()) = count;
            return all;
        };
        TColgp_Array2OfPnt poles(1, static_cast<int>(columns()), 1, static_cast<int>(rows()));
        for (std::size_t i = 0; i < columns(); ++i)
            for (std::size_t j = 0; j < rows(); ++j)
                poles(static_cast<int>(i) + 1, static_cast<int>(j) + 1) = part::point(poles_[i * rows() + j]);
        return new Geom_BSplineSurface(poles, knots(us_), knots(vs_), folds(us_), folds(vs_), degree, degree);
    }

private:
    [[nodiscard]] std::size_t columns() const { return degree * (us_.size() - 1) + 1; }
    [[nodiscard]] std::size_t rows() const { return degree * (vs_.size() - 1) + 1; }
    [[nodiscard]] Vec3 place(Vec2 uv) const {
        const auto at = surface_.place(uv);
        return at.point + at.normal * height_;
    }

    bool build() {
        const auto& matrix = Septic::pole_matrix();
        poles_.assign(columns() * rows(), {});
        bool good = true;
        for (std::size_t i = 0; i + 1 < us_.size() && good; ++i)
            for (std::size_t j = 0; j + 1 < vs_.size(); ++j) {
                const Vec2 low{us_[i], vs_[j]}, size{us_[i + 1] - us_[i], vs_[j + 1] - vs_[j]};
                const auto at = [&](double s, double t) { return low + Vec2{size.x * s, size.y * t}; };
                std::array<std::array<Vec3, count>, count> values, half{}, poles{};
                for (std::size_t k = 0; k < count; ++k)
                    for (std::size_t l = 0; l < count; ++l)
                        values[k][l] = place(at(Septic::node(k), Septic::node(l)));
                for (std::size_t k = 0; k < count; ++k)
                    for (std::size_t l = 0; l < count; ++l)
                        for (std::size_t m = 0; m < count; ++m)
                            half[k][l] = half[k][l] + values[m][l] * matrix[k][m];
                for (std::size_t k = 0; k < count; ++k)
                    for (std::size_t l = 0; l < count; ++l)
                        for (std::size_t m = 0; m < count; ++m)
                            poles[k][l] = poles[k][l] + half[k][m] * matrix[l][m];
                for (std::size_t k = 0; k < count; ++k)
                    for (std::size_t l = 0; l < count; ++l)
                        poles_[(degree * i + k) * rows() + degree * j + l] = poles[k][l];
                constexpr double fine = 1e-7; // mm
                for (const auto& [s, t] : {std::pair(0.06, 0.44), std::pair(0.5, 0.94), std::pair(0.73, 0.27),
                                           std::pair(0.28, 0.72), std::pair(0.97, 0.03)}) {
                    const auto b = Septic::bernstein(s), c = Septic::bernstein(t);
                    Vec3 sum;
                    for (std::size_t k = 0; k < count; ++k)
                        for (std::size_t l = 0; l < count; ++l)
                            sum = sum + poles[k][l] * (b[k] * c[l]);
                    good = good && distance(sum, place(at(s, t))) <= fine;
                }
            }
        return good;
    }

    surface::SurfaceEvaluator surface_; ///< in the surface's own coordinates
    double height_;
    std::vector<double> us_, vs_;
    std::vector<Vec3> poles_;
};

Error beyond_the_middle() {
    return {"imprint.depth", "The mark could not be made: so far below its face there is no surface parallel to it.",
            "Make it shallower, or move it to where the face is flatter."};
}

} // namespace

Result<ParallelSurface> ParallelSurface::at(const Site& site, double height) {
    const surface::CurvedFace& face = site.chart->face();
    const double value = height * face.side / std::abs(face.location.Transformation().ScaleFactor());
    ParallelSurface out(site, height);
    out.exact_ = {face.surface, face.location, {}};
    if (height == 0) return out;
    const auto away = [value](const gp_Ax3& axes) { return axes.Direct() ? value : -value; };
    if (const auto sphere = Handle(Geom_SphericalSurface)::DownCast(face.surface); !sphere.IsNull()) {
        const double radius = sphere->Radius() + away(sphere->Position());
        if (radius <= 0) return std::unexpected(beyond_the_middle());
        out.exact_.surface = new Geom_SphericalSurface(sphere->Position(), radius);
    } else if (const auto torus = Handle(Geom_ToroidalSurface)::DownCast(face.surface); !torus.IsNull()) {
        const double minor = torus->MinorRadius() + away(torus->Position());
        if (minor <= 0) return std::unexpected(beyond_the_middle());
        out.exact_.surface = new Geom_ToroidalSurface(torus->Position(), torus->MajorRadius(), minor);
    } else if (face.surface->Continuity() == GeomAbs_C0) {
        out.exact_.surface.Nullify();
    } else {
        out.exact_.surface = new Geom_OffsetSurface(face.surface, value);
    }
    return out;
}

HostSurface ParallelSurface::over(const Box2& box) const {
    if (!exact_.surface.IsNull()) return exact_;
    const surface::CurvedFace& face = site_->chart->face();
    // A little more, but not beyond the face.
    const auto widened = [](double& low, double& high, double least, double most, double period) {
        const double more = 0.02 * (high - low);
        low = period > 0 ? low - more : std::max(low - more, std::min(low, least));
        high = period > 0 ? high + more : std::min(high + more, std::max(high, most));
    };
    Box2 wide = box;
    widened(wide.low.x, wide.high.x, face.domain.low.x, face.domain.high.x, face.period.x);
    widened(wide.low.y, wide.high.y, face.domain.low.y, face.domain.high.y, face.period.y);
    return {Fit(*site_, height_, wide).surface(), face.location, {}};
}

} // namespace touchmark::imprint
