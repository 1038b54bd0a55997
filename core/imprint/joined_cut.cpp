// SPDX-License-Identifier: MIT

// Regions that lie across the edges between faces of one surface.

#include "core/imprint/body_edit.h"
#include "core/imprint/check.h"
#include "core/imprint/flat_walls.h"
#include "core/imprint/host_area.h"
#include "core/imprint/joined_faces.h"
#include "core/imprint/sorted.h"
#include "core/part/vectors.h"

#include <BRep_Tool.hxx>
#include <Geom_Curve.hxx>

#include <algorithm>
#include <numbers>

namespace touchmark::imprint {
namespace {

bool over_any(const RegionPolygons& region, const std::vector<Stretch>& closed) {
    const auto meets = [&](const geometry::Polygon& polygon) {
        for (std::size_t i = 0; i < polygon.size(); ++i)
            for (const Stretch& other : closed)
                if (surface::meeting(polygon[i], polygon[(i + 1) % polygon.size()], other[0], other[1])) return true;
        return false;
    };
    return meets(region.outer) || std::ranges::any_of(region.holes, meets) ||
           std::ranges::any_of(closed, [&](const Stretch& s) { return geometry::winding(region.outer, s[0]) != 0; });
}

bool split_at(std::span<const Joint> joints, geometry::Region& region) {
    return split_at(joints, region.outer) &&
           std::ranges::all_of(region.holes, [&](geometry::Contour& hole) { return split_at(joints, hole); });
}

Vec3 middle_of(const TopoDS_Edge& edge) {
    double first = 0, last = 0;
    const Handle(Geom_Curve) curve = BRep_Tool::Curve(edge, first, last);
    return part::vec(curve->Value((first + last) / 2));
}

/// Where on the surface of the site things are: on which face, and whether under the regions.
class Places {
public:
    [[nodiscard]] static Result<Places> of(std::span<const TopoDS_Face> faces, const Site& site,
                                           std::span<const geometry::Region> regions) {
        Places out(site);
        for (const TopoDS_Face& face : faces) {
            Result<HostArea> area = HostArea::of(face, site);
            if (!area) return std::unexpected(area.error());
            out.areas_.push_back(*std::move(area));
        }
        out.regions_ = polygons_of({{regions.begin(), regions.end()}});
        return out;
    }
    [[nodiscard]] std::size_t face_at(const Vec3& p) const {
        const std::vector<Vec2> places = flat_on_turns(*site_, p);
        for (std::size_t i = 0; i < areas_.size(); ++i)
            if (std::ranges::any_of(places, [&](Vec2 at) { return areas_[i].covers(at); })) return i;
        return areas_.size();
    }
    [[nodiscard]] bool marked(const Vec3& p) const {
        const auto within = [](const geometry::Polygon& polygon, Vec2 at) {
            return geometry::winding(polygon, at) != 0;
        };
        for (const Vec2 at : flat_on_turns(*site_, p))
            for (const RegionPolygons& region : regions_)
                if (within(region.outer, at) &&
                    std::ranges::none_of(region.holes, [&](const auto& hole) { return within(hole, at); }))
                    return true;
        return false;
    }

private:
    explicit Places(const Site& site) : site_(&site) {}
    const Site* site_;
    std::vector<HostArea> areas_;
    std::vector<RegionPolygons> regions_;
};

/// Walls whose rims have curves on the faces that they lie on.
Walls walls_over(const Site& site, const JoinedFaces& joined, std::span<const geometry::Region> regions) {
    if (!site.unrolling) return build_walls(site.frame, joined.surfaces[0], regions, site.extent.reach());
    const surface::Unrolling& unrolling = *site.unrolling;
    std::vector<StoredRound> stored;
    for (const TopoDS_Face& face : joined.faces)
        stored.emplace_back(face, unrolling);
    RoundHost host{joined.surfaces[0], unrolling.centre.x - std::numbers::pi};
    host.lay_rim = [&](const TopoDS_Edge& edge, const std::function<Vec2(double)>& uv) {
        if (const std::size_t at = joined.face_at(middle_of(edge)); at < stored.size()) stored[at].lay_on(edge, uv);
    };
    const std::vector<int> in(regions.size(), -1);
    return site.flat ? build_flat_walls(site, host, regions, in)
                     : build_round_walls(unrolling, host, regions, in, site.extent.reach());
}

HostSurface surface_of(const TopoDS_Face& face, const Site& site) {
    if (!site.unrolling) return host_surface(face, site.frame);
    HostSurface out;
    out.surface = BRep_Tool::Surface(face, out.location);
    return out;
}

} // namespace

std::vector<TopoDS_Face> BodyEdit::hosts(const Footprint& mark) const {
    std::vector<TopoDS_Face> faces;
    for (const int face : mark.map->faces())
        faces.insert(faces.end(), host(face).now.begin(), host(face).now.end());
    return faces;
}

Result<std::vector<std::size_t>> BodyEdit::joinable(const Making& making, const Sorted& sorted) const {
    const std::vector<TopoDS_Face> faces = hosts(making.mark);
    std::vector<std::size_t> out;
    if (faces.size() < 2 || sorted.crossing.empty()) return out;
    const Result<HostArea> all = HostArea::of(faces, making.site);
    if (!all) return out; // edges that the general cut may still follow
    const Joints joints = joints_of(faces, making.site);
    const std::vector<RegionPolygons> polygons = polygons_of(making.site.outline);
    for (const std::size_t i : sorted.crossing) {
        if (!all->holds(polygons[i])) continue;
        geometry::Region region = making.site.outline.regions[i];
        if (making.mark.mode == Mode::hidden ||
            (!making.site.shape && !over_any(polygons[i], joints.closed) && split_at(joints.joints, region)))
            out.push_back(i);
    }
    return out;
}

Status BodyEdit::cut_joined(Making& making, std::span<const std::size_t> which) {
    const Site& site = making.site;
    const std::vector<TopoDS_Face> faces = hosts(making.mark);
    const Joints joints = joints_of(faces, site);
    std::vector<geometry::Region> regions = picked(site.outline, which);
    for (geometry::Region& region : regions)
        if (!split_at(joints.joints, region)) return failed("it touches an edge within its face");
    const Result<Places> places = Places::of(faces, site, regions);
    if (!places) return std::unexpected(places.error());
    JoinedFaces joined{faces,
                       {},
                       joints.joints,
                       [&](const Vec3& p) { return places->face_at(p); },
                       [&](const Vec3& p) { return places->marked(p); }};
    for (const TopoDS_Face& face : faces)
        joined.surfaces.push_back(surface_of(face, site));
    const Walls walls = walls_over(site, joined, regions);
    const auto opened = opened_across(joined, walls.rims);
    if (!opened) return std::unexpected(opened.error());
    std::vector<TopoDS_Face> old, fresh, added = walls.walls;
    std::vector<std::vector<TopoDS_Face>> now;
    added.insert(added.end(), walls.floors.begin(), walls.floors.end());
    for (std::size_t k = 0; k < faces.size(); ++k) {
        if ((*opened)[k].size() == 1 && (*opened)[k][0].IsSame(faces[k])) continue;
        old.push_back(faces[k]);
        now.push_back((*opened)[k]);
        fresh.insert(fresh.end(), now.back().begin(), now.back().end());
    }
    fresh.insert(fresh.end(), added.begin(), added.end());
    if (const auto fault = fault_of({fresh, old, takes_away(making.mark.mode), true}, material_); !fault.empty())
        return failed(fault);
    solid_ = swap_many(solid_, old, now, added);
    for (std::size_t k = 0; k < old.size(); ++k)
        replace_in(tracked_, old[k], now[k]);
    making.made.now.insert(making.made.now.end(), added.begin(), added.end());
    for (const std::size_t i : which)
        making.change += (takes_away(making.mark.mode) ? -1 : 1) * volume_of(site, site.outline.regions[i]);
    return {};
}

} // namespace touchmark::imprint
