// SPDX-License-Identifier: MIT
#include "core/imprint/site.h"

#include "core/imprint/flat_walls.h"
#include "core/imprint/freeform_walls.h"
#include "core/imprint/round_walls.h"
#include "core/part/vectors.h"

namespace touchmark::imprint {
namespace {

template <class Carried>
surface::Unrolling in_product(const surface::Unrolling& placed, const Carried& carried, const Vec3& origin,
                              double scale, bool mirrored) {
    surface::Unrolling out = placed;
    out.origin = origin;
    out.x = normalised(carried(placed.x));
    out.y = normalised(carried(placed.y));
    out.z = normalised(carried(placed.z));
    out.radius *= scale;
    out.centre.y *= scale;
    out.shift = out.shift * scale;
    if (mirrored)
        for (Vec2* v : {&out.shift, &out.across, &out.along})
            v->y = -v->y;
    return out;
}

} // namespace

Site site_of(const Footprint& mark, const TopLoc_Location& placing) {
    const gp_Trsf back = placing.Transformation().Inverted();
    const auto carried = [&](const Vec3& v) { return part::vec(part::vector(v).Transformed(back)); };
    const Vec3 normal = mark.map->normal({}), x = mark.map->x_direction({});
    const Vec3 own_x = carried(x), own_y = carried(cross(normal, x));
    Site site;
    site.frame =
        part::frame_from(part::vec(part::point(mark.map->point({})).Transformed(back)), carried(normal), own_x);
    const double scale = length(own_x);
    const bool mirrored = dot(own_y, site.frame.y) < 0;
    site.scale = scale;
    site.extent = extent_of(mark, scale);
    site.mirrored = mirrored;
    site.shape = shape_of(mark, scale);
    if (has_flat_floor(mark)) {
        const FlatFloor floor = flat_floor(mark);
        site.flat = FlatFloor{part::frame_from(part::vec(part::point(floor.frame.origin).Transformed(back)),
                                               carried(floor.frame.z), carried(floor.frame.x)),
                              floor.height * scale, floor.lowest * scale, floor.highest * scale, floor.steepest};
    }
    site.chart = mark.map->chart();
    if (const surface::Unrolling* placed = mark.map->unrolling())
        site.unrolling =
            in_product(*placed, carried, part::vec(part::point(placed->origin).Transformed(back)), scale, mirrored);
    const geometry::Affine to_own{scale, 0, 0, mirrored ? -scale : scale, {}};
    const auto contour = [&](const geometry::Contour& from) {
        const geometry::Contour moved = geometry::transformed(from, to_own);
        return mirrored ? geometry::reversed(moved) : moved;
    };
    for (const geometry::Region& region : mark.outline.regions) {
        geometry::Region& own = site.outline.regions.emplace_back();
        own.outer = contour(region.outer);
        for (const geometry::Contour& hole : region.holes)
            own.holes.push_back(contour(hole));
    }
    return site;
}

std::vector<geometry::Region> picked(const geometry::Outline& outline, std::span<const std::size_t> which) {
    std::vector<geometry::Region> regions;
    for (const std::size_t i : which)
        regions.push_back(outline.regions[i]);
    return regions;
}

double volume_of(const Site& site, const geometry::Region& region) {
    if (site.shape) return shaped_volume(geometry::InsetRegion(region), *site.shape);
    if (site.flat) return flat_volume(site, region);
    return volume_between(site, region, site.extent.low, site.extent.high);
}

double volume_between(const Site& site, const geometry::Region& region, double bottom, double top) {
    if (site.chart) return freeform_volume(site, region, bottom, top);
    if (site.unrolling) return volume_between(*site.unrolling, region, bottom, top);
    return geometry::area(geometry::Outline{{region}}) * (top - bottom);
}

std::unexpected<Error> not_direct(const Footprint& mark) {
    return fail("imprint.route",
                "\"" + mark.name + "\" cannot be made directly: it is not strictly inside " +
                    (mark.mode == Mode::through ? "both faces of the wall, or they are not flat." : "its face."),
                "Let the route be chosen, or move the mark.");
}

} // namespace touchmark::imprint
