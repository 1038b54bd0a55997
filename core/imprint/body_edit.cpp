// SPDX-License-Identifier: MIT
#include "core/imprint/body_edit.h"

#include "core/imprint/check.h"
#include "core/imprint/flat_walls.h"
#include "core/imprint/freeform_walls.h"
#include "core/imprint/general.h"
#include "core/imprint/host_area.h"
#include "core/imprint/round_curve.h"
#include "core/imprint/seam.h"
#include "core/imprint/shaped_walls.h"
#include "core/imprint/site.h"
#include "core/imprint/sorted.h"

#include <TopExp_Explorer.hxx>
#include <TopTools_MapOfShape.hxx>
#include <TopoDS.hxx>

#include <algorithm>

namespace touchmark::imprint {

namespace {

int faces_in(const TopoDS_Shape& shape) {
    int count = 0;
    for (TopExp_Explorer face(shape, TopAbs_FACE); face.More(); face.Next())
        ++count;
    return count;
}

struct Built {
    Walls walls;
    OpenedFace opened;
};

Result<Built> built_flat(const Site& site, const TopoDS_Face& face, std::span<const geometry::Region> regions,
                         const Nesting& nesting, double offset) {
    const HostSurface surface = host_surface(face, site.frame);
    Result<Walls> walls = site.shape
                              ? build_shaped_walls(site.frame, surface, regions, *site.shape, offset < 0 ? -1 : 1)
                              : build_walls(site.frame, surface, regions, offset);
    if (!walls) return std::unexpected(walls.error());
    Built out{*std::move(walls), {}};
    out.opened = open_face(face, surface, out.walls, nesting);
    return out;
}

/// What remains of the face in a counter is one face: where the surface ends at its seam, it cannot lie across.
bool has_counter_over_seam(const surface::Unrolling& unrolling, const RoundHost& host, const geometry::Region& region) {
    if (!host.stored) return false;
    constexpr double fine = 1e-3;
    for (const geometry::Contour& hole : region.holes) {
        double low = 1e300, high = -1e300;
        for (const Vec2 p : geometry::flattened(hole, fine)) {
            const double u = unrolling.parameters(p).x;
            low = std::min(low, u);
            high = std::max(high, u);
        }
        const double hair = host.stored->seam_hair();
        if (turn_into(host, low - hair) != turn_into(host, high + hair)) return true;
    }
    return false;
}

/// Takes out of `regions` what touches the seam without crossing it clean, and returns it.
std::vector<std::size_t> leave_out_at_seam(const Site& site, const TopoDS_Face& face, const HostArea& area,
                                           const std::vector<RegionPolygons>& polygons,
                                           std::vector<std::size_t>& regions, Nesting& nesting) {
    const RoundHost host = round_host(face, *site.unrolling);
    const bool straight = has_straight_seams(face, host);
    std::vector<std::size_t> left;
    const auto touches = [&](std::size_t i) {
        const geometry::Region& region = site.outline.regions[regions[i]];
        if (has_counter_over_seam(*site.unrolling, host, region)) return true;
        geometry::Contour outer = region.outer;
        return nesting.region_in[i] < 0 && !(straight && split_at_angle(*site.unrolling, host.low, outer));
    };
    for (std::size_t i = 0; i < regions.size();) {
        if (!touches(i)) {
            ++i;
            continue;
        }
        left.push_back(regions[i]);
        regions.erase(regions.begin() + static_cast<std::ptrdiff_t>(i));
        std::vector<RegionPolygons> held;
        for (const std::size_t region : regions)
            held.push_back(polygons[region]);
        nesting = area.nesting_of(held);
        i = 0; // what lay in its counters lies on the face itself now
    }
    return left;
}

Result<Built> built_round(const Site& site, const TopoDS_Face& face, std::vector<geometry::Region> regions,
                          const Nesting& nesting, double offset) {
    const surface::Unrolling& unrolling = *site.unrolling;
    const RoundHost host = round_host(face, unrolling);
    for (std::size_t i = 0; i < regions.size(); ++i)
        if (nesting.region_in[i] < 0 && !split_at_angle(unrolling, host.low, regions[i].outer))
            return failed("it touches the seam of the face");
    Built out{site.flat ? build_flat_walls(site, host, regions, nesting.region_in)
                        : build_round_walls(unrolling, host, regions, nesting.region_in, offset),
              {}};
    out.opened = open_face(face, host.surface, out.walls, nesting);
    if (const Status done = interrupt_seam(out.opened, host); !done) return std::unexpected(done.error());
    return out;
}

Result<Built> built_freeform(const Site& site, const TopoDS_Face& face, std::span<const geometry::Region> regions,
                             const Nesting& nesting, double offset) {
    const HostSurface host = curved_host(face);
    Result<Walls> walls = site.flat ? Result<Walls>(build_flat_walls(site, {host, 0}, regions, nesting.region_in))
                                    : build_freeform_walls(site, host, regions, offset);
    if (!walls) return std::unexpected(walls.error());
    Built out{*std::move(walls), {}};
    out.opened = open_face(face, host, out.walls, nesting);
    return out;
}

} // namespace

BodyEdit::BodyEdit(const part::Part& part, int body, std::span<const int> faces, const Material& material)
    : part_(part), body_(body), material_(material), solid_(part::occurrence(part, body).shape) {
    for (const int face : faces) {
        const TopoDS_Face& shape = part::face_shape(part, face);
        tracked_.push_back({shape, face, -1, {shape}});
    }
    const part::Occurrence& occurrence = part::occurrence(part, body);
    const auto& styled = part::model(part).products[static_cast<std::size_t>(occurrence.product)].styled;
    if (styled.empty()) return;
    TopTools_MapOfShape own;
    for (TopExp_Explorer face(solid_, TopAbs_FACE); face.More(); face.Next())
        own.Add(face.Current());
    for (const part::Styled& style : styled)
        if (!style.shape.IsNull() && style.shape.ShapeType() == TopAbs_FACE && own.Contains(style.shape))
            tracked_.push_back({style.shape, -1, -1, {TopoDS::Face(style.shape)}});
}

void replace_in(std::vector<Tracked>& tracked, const TopoDS_Face& old, const std::vector<TopoDS_Face>& by) {
    for (Tracked& item : tracked) {
        const auto at =
            std::find_if(item.now.begin(), item.now.end(), [&](const TopoDS_Face& f) { return f.IsSame(old); });
        if (at == item.now.end()) continue;
        item.now.erase(at);
        item.now.insert(item.now.end(), by.begin(), by.end());
    }
}

const Tracked& BodyEdit::host(int face) const {
    return *std::find_if(tracked_.begin(), tracked_.end(), [&](const Tracked& item) { return item.face == face; });
}

Result<Sorted> BodyEdit::sorted(const Footprint& mark, const Site& site) const {
    Sorted out;
    const std::vector<RegionPolygons> polygons = polygons_of(site.outline);
    std::vector<char> taken(polygons.size(), 0);
    for (const TopoDS_Face& piece : hosts(mark)) {
        const Result<HostArea> area = HostArea::of(piece, site);
        if (!area) return std::unexpected(area.error());
        Sorted::Share share{piece, {}, {}};
        std::vector<RegionPolygons> held;
        for (std::size_t i = 0; i < polygons.size(); ++i)
            if (!taken[i] && area->holds(polygons[i])) {
                taken[i] = 1;
                share.regions.push_back(i);
                held.push_back(polygons[i]);
            }
        if (held.empty()) continue;
        share.nesting = area->nesting_of(held);
        if (site.unrolling)
            for (const std::size_t left : leave_out_at_seam(site, piece, *area, polygons, share.regions, share.nesting))
                taken[left] = 0;
        if (share.regions.empty()) continue;
        out.shares.push_back(std::move(share));
    }
    for (std::size_t i = 0; i < polygons.size(); ++i)
        if (!taken[i]) out.crossing.push_back(i);
    return out;
}

Status BodyEdit::cut_directly(Making& making, const Sorted& sorted) {
    const Site& site = making.site;
    const bool cut = takes_away(making.mark.mode);
    const double offset = site.extent.reach();
    const bool shaped = site.shape || site.flat; // nobody looked at the contours of its floors yet
    std::vector<TopoDS_Face>& made = making.made.now;
    for (const Sorted::Share& share : sorted.shares) {
        const std::vector<geometry::Region> regions = picked(site.outline, share.regions);
        const Result<Built> built = site.chart       ? built_freeform(site, share.face, regions, share.nesting, offset)
                                    : site.unrolling ? built_round(site, share.face, regions, share.nesting, offset)
                                                     : built_flat(site, share.face, regions, share.nesting, offset);
        if (!built) return std::unexpected(built.error());
        const auto& [walls, opened] = *built;
        std::vector<TopoDS_Face> fresh{opened.host};
        fresh.insert(fresh.end(), opened.islands.begin(), opened.islands.end());
        const std::vector<TopoDS_Face> remains = fresh;
        fresh.insert(fresh.end(), walls.walls.begin(), walls.walls.end());
        fresh.insert(fresh.end(), walls.floors.begin(), walls.floors.end());
        if (const auto fault = fault_of({fresh, std::span(&share.face, 1), cut, shaped}, material_); !fault.empty())
            return failed(fault);
        solid_ = swap_face(solid_, share.face, opened.host, {&opened.islands, &walls.walls, &walls.floors});
        replace_in(tracked_, share.face, remains);
        made.insert(made.end(), walls.walls.begin(), walls.walls.end());
        made.insert(made.end(), walls.floors.begin(), walls.floors.end());
    }
    return {};
}

Status BodyEdit::cut_generally(Making& making, std::span<const std::size_t> which, const Prisms& prisms,
                               std::vector<TopoDS_Shape>* removed) {
    const std::vector<geometry::Region> regions = picked(making.site.outline, which);
    Result<Boolean> cut = apply_general(solid_, making.site, regions, prisms, making.progress);
    if (!cut) return std::unexpected(cut.error());
    // Now and then the boolean takes two bodies that share a curved face for apart.
    const geometry::Outline own{picked(making.mark.outline, which)};
    if (std::abs(cut->volume_change) < 1e-9 && !geometry::intersection(own, making.mark.map->room()).empty())
        return failed("the general cut over the face's edge changes nothing");
    const PieceFinder pieces(cut->solid, cut->history);
    for (Tracked& item : tracked_) {
        std::vector<TopoDS_Face> now;
        for (const TopoDS_Face& face : item.now)
            for (const TopoDS_Face& piece : pieces.of(face))
                now.push_back(piece);
        item.now = std::move(now);
    }
    solid_ = cut->solid;
    making.made.now = cut->made;
    making.change += cut->volume_change;
    if (removed) *removed = std::move(cut->removed);
    return {};
}

Status BodyEdit::emboss(Making& making) {
    const Site& site = making.site;
    Result<Sorted> sorted = this->sorted(making.mark, site);
    if (!sorted) return std::unexpected(sorted.error());
    if (sorted->shares.empty() && geometry::intersection(making.mark.outline, making.mark.map->room()).empty())
        return fail("imprint.outside", "Nothing of the mark \"" + making.mark.name + "\" lies on its face.",
                    "Move the mark onto the face.");
    if (making.choice == RouteChoice::general) sorted->send_all_to_the_boolean();
    std::vector<std::size_t> joined;
    if (making.choice != RouteChoice::general) {
        Result<std::vector<std::size_t>> found = joinable(making, *sorted);
        if (!found) return std::unexpected(found.error());
        joined = *std::move(found);
    }
    if (making.choice == RouteChoice::direct && sorted->crossing.size() > joined.size()) return not_direct(making.mark);
    if (!joined.empty()) {
        if (const Status done = cut_joined(making, joined); !done) return done;
        sorted = this->sorted(making.mark, site);
        if (!sorted) return std::unexpected(sorted.error());
    }
    // What was made over the edges between its faces lies across a boundary now.
    const auto is_joined = [&](std::size_t i) { return std::ranges::find(joined, i) != joined.end(); };
    std::erase_if(sorted->crossing, is_joined);
    std::vector<TopoDS_Shape> removed;
    if (!sorted->crossing.empty() && site.flat && making.mark.mode == Mode::raise)
        return fail(making.choice == RouteChoice::general ? "imprint.route" : "imprint.outside",
                    "\"" + making.mark.name +
                        "\" is raised to a flat roof, which is made directly, strictly inside one face.",
                    "Move it onto the face, or let its roof follow the face.");
    if (!sorted->crossing.empty()) {
        making.result.route = sorted->shares.empty() && joined.empty() ? Route::general : Route::mixed;
        const std::vector<std::size_t> cut = sorted->crossing;
        if (const Status done = cut_generally(making, cut, prisms_of(making.mark, site), &removed); !done) return done;
        sorted = making.choice == RouteChoice::general ? Sorted{{}, cut} : this->sorted(making.mark, site);
        if (!sorted) return std::unexpected(sorted.error());
        std::erase_if(sorted->crossing, is_joined);
        if (sorted->crossing != cut) return failed("the rest of it does not fit the face after the cut over its edge");
    }
    if (const Status done = cut_directly(making, *sorted); !done) return done;
    for (const Sorted::Share& share : sorted->shares)
        for (const std::size_t i : share.regions)
            making.change += (takes_away(making.mark.mode) ? -1 : 1) * volume_of(site, site.outline.regions[i]);
    if (!joined.empty()) sorted->shares.push_back({{}, joined, {}}); // to be filled like the others
    if (making.mark.mode == Mode::inlay)
        if (const Status done = fill(making, *sorted, removed); !done) return done;
    return {};
}

Status BodyEdit::make(Making& making, const FarSide* far) {
    switch (making.mark.mode) {
    case Mode::hidden:
        return hide(making);
    case Mode::through:
        return cut_through(making, *far);
    default:
        return emboss(making);
    }
}

Result<MarkResult> BodyEdit::apply(const Footprint& mark, int index, RouteChoice route, const FarSide* far,
                                   const Progress& progress) {
    const Site site = site_of(mark, part::occurrence(part_, body_).location);
    const TopoDS_Shape solid_before = solid_;
    const std::vector<Tracked> tracked_before = tracked_;
    const std::size_t fillers_before = fillers_.size();
    Making making{mark, site, index, route, progress};
    making.made.mark = index;
    Status done = make(making, far);
    // Over a ball's corner a footprint may lie on the face's map and yet beside the material.
    if (done && std::abs(making.change) < 1e-9)
        done = fail("imprint.outside", "Nothing of the mark \"" + mark.name + "\" meets the part there.",
                    "Move the mark onto the face.");
    if (!done) {
        solid_ = solid_before;
        tracked_ = tracked_before;
        fillers_.resize(fillers_before);
        return std::unexpected(done.error());
    }
    const double cubed = site.scale * site.scale * site.scale;
    making.result.volume_change_mm3 = making.change / cubed;
    for (std::size_t i = fillers_before; i < fillers_.size(); ++i)
        making.result.filled_mm3 += fillers_[i].volume / cubed;
    making.result.faces_added = faces_in(solid_) - faces_in(solid_before);
    tracked_.push_back(std::move(making.made));
    volume_change_ += making.change;
    return making.result;
}

} // namespace touchmark::imprint
