// SPDX-License-Identifier: MIT

// Cutting through the wall to its far side.

#include "core/base/quadrature.h"
#include "core/imprint/body_edit.h"
#include "core/imprint/check.h"
#include "core/imprint/clearance.h"
#include "core/imprint/general.h"
#include "core/imprint/host_area.h"
#include "core/imprint/sorted.h"
#include "core/part/vectors.h"

#include <TopoDS.hxx>

#include <algorithm>
#include <array>
#include <cmath>

namespace touchmark::imprint {
namespace {

/// Of the far plane over the mark's; nothing where it stands too steep.
std::optional<Heights> heights_of(const Frame& frame, const HostSurface& far) {
    const gp_Pln plane = far.plane.Transformed(far.location.Transformation());
    const Vec3 normal = part::vec(plane.Axis().Direction()), through = part::vec(plane.Location());
    const double rise = dot(frame.z, normal);
    constexpr double steepest = 0.1; // some 84° to the face
    if (std::abs(rise) < steepest) return std::nullopt;
    Heights heights;
    heights.at_origin = dot(through - frame.origin, normal) / rise;
    heights.slope = {-dot(frame.x, normal) / rise, -dot(frame.y, normal) / rise};
    const double hair = 1e-12;
    if (std::abs(heights.slope.x) < hair && std::abs(heights.slope.y) < hair) heights.slope = {};
    return heights;
}

/// ∫ −height dA by Green's theorem: the antiderivative of a linear height along x, integrated over dy. Five Gauss
/// points are exact for cubics.
double depth_integral(const geometry::Contour& contour, const Heights& heights) {
    double sum = 0;
    for (const geometry::Segment& segment : contour.segments)
        for (const auto& [at, weight] : gauss_5) {
            const double t = (at + 1) / 2;
            const Vec2 p = geometry::point_at(segment, t), d = geometry::derivative_at(segment, t);
            const double along_x = (heights.at_origin + heights.slope.y * p.y + heights.slope.x * p.x / 2) * p.x;
            sum -= weight / 2 * along_x * d.y;
        }
    return sum;
}

bool has_counters(const geometry::Outline& outline) {
    return std::ranges::any_of(outline.regions, [](const geometry::Region& region) { return !region.holes.empty(); });
}

} // namespace

Result<bool> BodyEdit::open_directly(Making& making, const FarSide& far) {
    const Site& site = making.site;
    if (site.unrolling || site.chart || far.faces.size() != 1) return false;
    const part::Face& far_face = part_.faces()[static_cast<std::size_t>(far.faces[0])];
    if (far_face.kind != part::FaceKind::plane || far_face.body != body_ || far_face.index == making.mark.map->face())
        return false;
    const Result<Sorted> sorted = this->sorted(making.mark, site);
    if (!sorted) return std::unexpected(sorted.error());
    if (!sorted->crossing.empty() || sorted->shares.size() != 1) return false;
    const Sorted::Share& share = sorted->shares[0];
    const std::vector<RegionPolygons> polygons = polygons_of(site.outline);
    for (const TopoDS_Face& piece : host(far_face.index).now) {
        const Result<HostArea> area = HostArea::of(piece, site);
        if (!area) return std::unexpected(area.error());
        if (!std::ranges::all_of(polygons, [&](const RegionPolygons& region) { return area->holds(region); })) continue;
        const HostSurface near_surface = host_surface(share.face, site.frame);
        const std::optional<HostSurface> far_surface = flat_surface(piece);
        const auto heights = far_surface ? heights_of(site.frame, *far_surface) : std::nullopt;
        if (!heights) return false;
        Openings openings = build_openings(site.frame, near_surface, *far_surface, *heights, site.outline.regions);
        const OpenedFace near_opened = open_face(share.face, near_surface, openings.walls, share.nesting);
        for (std::size_t i = 0; i < openings.far_rims.size(); ++i)
            openings.walls.rims[i].outer = TopoDS::Wire(openings.far_rims[i].Reversed());
        const OpenedFace far_opened = open_face(piece, *far_surface, openings.walls, area->nesting_of(polygons));
        std::vector<TopoDS_Face> fresh = openings.walls.walls;
        fresh.push_back(near_opened.host);
        fresh.push_back(far_opened.host);
        const std::array old{share.face, piece};
        if (const auto fault = fault_of({fresh, old, true, false}, {}); !fault.empty()) return failed(fault);
        solid_ = swap_faces(solid_, old, {near_opened.host, far_opened.host}, openings.walls.walls);
        replace_in(tracked_, old[0], {near_opened.host});
        replace_in(tracked_, old[1], {far_opened.host});
        making.made.now = openings.walls.walls;
        for (const geometry::Region& region : site.outline.regions)
            making.change -= depth_integral(region.outer, *heights);
        return true;
    }
    return false;
}

Status BodyEdit::cut_through(Making& making, const FarSide& far) {
    if (has_counters(making.site.outline))
        return fail("imprint.loose",
                    "The inside of a letter or shape of \"" + making.mark.name +
                        "\" would fall out when it is cut through.",
                    "Give it bridges, choose a stencil face, or another mode.");
    if (making.choice != RouteChoice::general) {
        const Result<bool> opened = open_directly(making, far);
        if (!opened) return std::unexpected(opened.error());
        if (*opened) return {};
        if (making.choice == RouteChoice::direct) return not_direct(making.mark);
    }
    making.result.route = Route::general;
    const double beyond = far.next ? std::min(overshoot, (*far.next - far.farthest) / 2) : overshoot;
    Prisms prisms{-(far.farthest + beyond) * making.site.scale, overshoot, true};
    const auto shell_of = [&](int face) { return host(face).now.empty() ? TopoDS_Face() : host(face).now.front(); };
    std::vector<std::size_t> all(making.site.outline.regions.size());
    for (std::size_t i = 0; i < all.size(); ++i)
        all[i] = i;
    const TopoDS_Face near = shell_of(making.mark.map->face()), behind = shell_of(far.faces[0]);
    if (!near.IsNull() && !behind.IsNull() && !in_one_shell(solid_, near, behind)) prisms.more_shells = -1;
    return cut_generally(making, all, prisms);
}

} // namespace touchmark::imprint
